import type { NoteValue } from "../tune/tempo.ts";
import { semibreves } from "../tune/tempo.ts";
import { comparable, daysOf, placed } from "./comparable-days.ts";
import { type DayValue, groupValues, scaleOf, tempoValues } from "./day-values.ts";
import { confidenceOfEach } from "./held-together.ts";
import { compareAll } from "./like-pairs.ts";
import { MEASURE_KINDS, MEASURES, type Measure } from "./measured.ts";
import type { GroupDay, ItemDay } from "./roll-ups.ts";
import type { LineKind, MeasureTrend, Scope, TrendLine, TrendView } from "./trend.ts";
import { LEAST_SESSIONS, trendLine } from "./trend-line.ts";
import type { LineRule } from "./trend-points.ts";
import { comparedInWords, lineInWords } from "./trend-words.ts";

/** Rows of a range of days, in any order. */
export interface DayRows {
  readonly groupDays: readonly GroupDay[];
  readonly itemDays: readonly ItemDay[];
}

/**
 * All intervals of a view together hold so many in a hundred of those who do not change. 95 are promised; the rest is kept
 * back for days that are a little like the day before, which no shuffling knows of.
 */
const TOGETHER = 0.96;

/** Everything the lines of one measure are made of. */
interface Draft
  extends Pick<MeasureTrend, "scope" | "measure" | "unit" | "noteValue" | "better" | "compared"> {
  readonly scale: LineRule["scale"];
  readonly values: Readonly<Partial<Record<LineKind, readonly DayValue[]>>> & {
    readonly day: readonly DayValue[];
  };
}

/**
 * Trends of all measures in one scope or several that are looked at together.
 *
 * A line is judged on every attempt of the day. Who has not changed is told of a change in any measure of the view at most five
 * times in a hundred: each interval is made so wide that all together hold (see `confidenceOfEach`). The first attempts of the days
 * are called changed only where the days as a whole are (a fixed sequence, W. Maurer, L. A. Hothorn and W. Lehmacher 1995),
 * so they cost no width. The best of each day is told but never judged: more attempts alone make a better best.
 *
 * @param scopes without repeats; those of a reed action or pair have no trends here, see `reedTrendsOf`
 */
export function trendsOf(rows: DayRows, scopes: readonly Scope[]): TrendView {
  const drafts = scopes.flatMap((scope) => draftsOf(within(rows, scope), scope));
  const days = new Set(
    rows.groupDays.filter((row) => scopes.some((scope) => holds(scope, row))).map(({ day }) => day),
  );
  return viewOf(drafts, days.size);
}

/** @param days of practice in all */
export function viewOf(drafts: readonly Draft[], days: number): TrendView {
  const judged = drafts
    .map(({ values }) => comparable(values.day))
    .filter((like) => like.days.length >= LEAST_SESSIONS);
  const all = daysOf(judged.flatMap(({ values }) => values));
  const confidence = confidenceOfEach(
    judged.map(({ values }) => compareAll(placed(values, all))),
    TOGETHER,
  );
  const trends = drafts.map((draft) => trendOf(draft, confidence, judged.length));
  return { trends, days, judged: judged.length, confidence };
}
export type { Draft };

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

function draftsOf({ groupDays, itemDays }: DayRows, scope: Scope): readonly Draft[] {
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

function trendOf({ values, scale, ...draft }: Draft, confidence: number, judged: number): MeasureTrend {
  const { unit, better, noteValue } = draft;
  const line = (kind: LineKind): TrendLine | null => {
    const own = values[kind];
    if (own === undefined || own.length === 0) return null;
    const wordless = inUnit(
      trendLine(own, { kind, scale, share: unit === "share", better, confidence }),
      noteValue,
    );
    const held = kind === "first" && day !== null && day.verdict !== wordless.verdict;
    const verdict = held && wordless.verdict !== "too early" ? "no clear change" : wordless.verdict;
    return { ...wordless, verdict, words: lineInWords({ ...wordless, verdict }, draft, judged) };
  };
  let day: TrendLine | null = null;
  day = line("day");
  if (day === null) throw new RangeError(`no values of ${draft.measure}`);
  return { ...draft, day, first: line("first"), best: line("best") };
}

/** Tempi are compared in semibreves a minute and told in beats. */
function inUnit<Line extends Omit<TrendLine, "words">>(line: Line, noteValue: NoteValue | null): Line {
  if (noteValue === null) return line;
  const beats = (value: number) => value / semibreves(noteValue);
  return {
    ...line,
    points: line.points.map((point) => ({ ...point, value: beats(point.value) })),
    band: line.band.map(({ day, value, low, high }) => ({
      day,
      value: beats(value),
      low: beats(low),
      high: beats(high),
    })),
    change: line.change === null ? null : mapped(line.change, beats),
  };
}

const mapped = (change: NonNullable<TrendLine["change"]>, of: (value: number) => number) => ({
  from: of(change.from),
  to: of(change.to),
  low: of(change.low),
  high: of(change.high),
});
