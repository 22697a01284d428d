import type { NoteValue } from "../../tune/tempo.ts";
import { MEASURE_KINDS, MEASURES, type Measure } from "../counts/measured.ts";
import type { GroupDay, ItemDay, ReedDay } from "../counts/roll-ups.ts";
import type { PracticeDay } from "../practice-day.ts";
import { reedValues, SPOT_MEASURES } from "../spots/reed-values.ts";
import { type SpotKind, tableOf } from "../spots/spot-tally.ts";
import { type DayValue, groupValues, scaleOf, tempoValues } from "./day-values.ts";
import type { LineKind, MeasureTrend, Scope } from "./trend.ts";
import type { LineRule } from "./trend-points.ts";
import { comparedInWords, exercisesInWords } from "./trend-words.ts";

/** Rows of a range of days, in any order. */
export interface DayRows {
  readonly groupDays: readonly GroupDay[];
  /** For tempi reached. */
  readonly itemDays: readonly ItemDay[];
  /** For reed actions and pairs; may be left out where no scope is one. */
  readonly reedDays?: readonly ReedDay[];
}

/** Everything the lines of one measure are made of. */
export interface Draft
  extends Pick<MeasureTrend, "scope" | "measure" | "unit" | "noteValue" | "better" | "compared"> {
  readonly scale: LineRule["scale"];
  readonly values: Readonly<Partial<Record<LineKind, readonly DayValue[]>>> & {
    readonly day: readonly DayValue[];
  };
}

/** What a scope has, one draft for each measure any of its days has. */
export function draftsOf(rows: DayRows, scope: Scope): readonly Draft[] {
  return scope.kind === "reed" || scope.kind === "pair"
    ? spotDrafts(rows.reedDays ?? [], scope)
    : measureDrafts(within(rows, scope), scope);
}

/** Days on which anything of a scope was practised. */
export function daysWithin(rows: DayRows, scope: Scope): readonly PracticeDay[] {
  if (scope.kind !== "reed" && scope.kind !== "pair")
    return within(rows, scope).groupDays.map(({ day }) => day);
  return spotDays(rows.reedDays ?? [], scope).map(({ day }) => day);
}

function within({ groupDays, itemDays }: DayRows, scope: Scope): DayRows {
  return {
    groupDays: groupDays.filter((row) => holds(scope, row)),
    // A row of an item has no group of its own.
    itemDays: scope.kind === "group" ? [] : itemDays.filter((row) => holds(scope, row)),
  };
}

function holds(scope: Scope, row: GroupDay | ItemDay): boolean {
  switch (scope.kind) {
    case "all":
      return true;
    case "position":
      return row.what.position === scope.position;
    case "tune":
      return row.what.tuneId === scope.tuneId;
    case "item":
      return row.item === scope.item;
    case "group":
      return "group" in row && row.group === scope.group;
    case "reed":
    case "pair":
      return false;
  }
}

function measureDrafts({ groupDays, itemDays }: DayRows, scope: Scope): readonly Draft[] {
  const compared = comparedInWords(groupDays);
  const measured = MEASURES.flatMap((measure): readonly Draft[] => {
    const day = groupValues("day", measure, groupDays);
    if (day.length === 0) return [];
    const first = groupValues("first", measure, groupDays);
    const best =
      MEASURE_KINDS[measure].better === null ? {} : { best: groupValues("best", measure, groupDays) };
    return [
      { ...kindOf(measure), scope, measure, noteValue: null, compared, values: { day, first, ...best } },
    ];
  });
  const tempo = tempoValues(itemDays);
  const noteValue = usualNoteValue(itemDays);
  if (noteValue === null) return measured;
  const kind = { unit: "bpm", better: "more", scale: "log" } as const;
  return [
    ...measured,
    { ...kind, scope, measure: "tempo reached", noteValue, compared, values: { day: tempo } },
  ];
}

const kindOf = (measure: Measure) => ({ ...MEASURE_KINDS[measure], scale: scaleOf(measure) });

/** The note value most tempi were counted in; at a tie the first by name. Null without a tempo. */
function usualNoteValue(days: readonly ItemDay[]): NoteValue | null {
  const times = new Map<NoteValue, number>();
  for (const { reached } of days)
    if (reached !== null) times.set(reached.noteValue, (times.get(reached.noteValue) ?? 0) + 1);
  return [...times].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1))[0]?.[0] ?? null;
}

type SpotScope = Extract<Scope, { readonly kind: SpotKind }>;

const spotDays = (days: readonly ReedDay[], { kind, harp, name }: SpotScope) =>
  days.filter((row) => row.harp === harp && tableOf(kind, row)[name] !== undefined);

/** One reed action or pair: its best of a day says nothing, so few notes are always right once. */
function spotDrafts(days: readonly ReedDay[], scope: SpotScope): readonly Draft[] {
  const own = spotDays(days, scope);
  const compared = exercisesInWords(new Set(own.map(({ group }) => group)).size);
  return SPOT_MEASURES.flatMap((measure): readonly Draft[] => {
    const day = reedValues("day", measure, scope, own);
    const first = reedValues("first", measure, scope, own);
    return day.length === 0
      ? []
      : [{ ...kindOf(measure), scope, measure, noteValue: null, compared, values: { day, first } }];
  });
}
