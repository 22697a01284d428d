import { semibreves } from "../../tune/tempo.ts";
import type { Bpm } from "../../units.ts";
import type { PracticeDay } from "../practice-day.ts";
import type { Like } from "./likeness.ts";
import {
  addMeasured,
  MEASURE_KINDS,
  MEASURES,
  type Measure,
  type Measured,
  measureValue,
  tellingNotes,
} from "./measured.ts";
import { addTables, type ReedTable } from "./reed-counts.ts";
import { earlier, type SessionFact, type What } from "./session-fact.ts";

/** Attempts of one day that are alike. */
export interface GroupDay {
  readonly group: string;
  readonly day: PracticeDay;
  readonly item: string;
  readonly like: Like;
  readonly what: What;
  readonly attempts: number;
  /** In whole milliseconds, so that they add up exactly. */
  readonly practisedMs: number;
  readonly all: Measured;
  /** The first attempt by the clock. */
  readonly first: FirstAttempt;
  /** Best of each measure among the attempts that could be measured; a measure that was not is absent. */
  readonly best: Readonly<Partial<Record<Measure, number>>>;
}

export interface FirstAttempt {
  readonly id: string;
  readonly atEpochMs: number;
  readonly measured: Measured;
}

/** All attempts of one day. */
export interface DayTotal {
  readonly day: PracticeDay;
  readonly attempts: number;
  /** In whole milliseconds, so that they add up exactly. */
  readonly practisedMs: number;
  /** How many of the attempts were made up for the demonstration. */
  readonly demoAttempts: number;
}

/** Notes of one day and group by reed action and by pair. */
export interface ReedDay {
  readonly group: string;
  readonly harp: string;
  readonly day: PracticeDay;
  readonly reeds: ReedTable;
  readonly pairs: ReedTable;
  /** The same of the first attempt alone. */
  readonly first: {
    readonly id: string;
    readonly atEpochMs: number;
    readonly reeds: ReedTable;
    readonly pairs: ReedTable;
  };
}

/** What was practised of one item on one day, whatever harp and tempo. */
export interface ItemDay {
  readonly item: string;
  readonly day: PracticeDay;
  readonly what: What;
  readonly attempts: number;
  /** The first attempt of the day, the cold one. */
  readonly first: ItemTry;
  /** The last one, to be opened again. */
  readonly last: { readonly id: string; readonly atEpochMs: number };
  /** Fastest tempo of an attempt with nine notes in ten right and a spread of at most 40 ms; null without one. */
  readonly reached: { readonly bpm: Bpm; readonly noteValue: Like["tempo"]["noteValue"] } | null;
}

export interface ItemTry {
  readonly id: string;
  readonly atEpochMs: number;
  /** Notes that were right, of those that could be judged; none of those where it was too few to say anything. */
  readonly hit: number;
  readonly judged: number;
  readonly rightShare: number | null;
  readonly spreadMs: number | null;
}

/**
 * The roll-ups of facts that all belong to one row.
 *
 * @param facts at least one, in any order
 * @throws RangeError without any
 */
export const dayTotalOf = (facts: readonly SessionFact[]): DayTotal =>
  joined(facts.map(asDayTotal), mergeDayTotals);
export const groupDayOf = (facts: readonly SessionFact[]): GroupDay =>
  joined(facts.map(asGroupDay), mergeGroupDays);
export const reedDayOf = (facts: readonly SessionFact[]): ReedDay =>
  joined(facts.map(asReedDay), mergeReedDays);
export const itemDayOf = (facts: readonly SessionFact[]): ItemDay =>
  joined(facts.map(asItemDay), mergeItemDays);

function joined<Row>(rows: readonly Row[], merge: (one: Row, other: Row) => Row): Row {
  const [first, ...rest] = rows;
  if (first === undefined) throw new RangeError("a roll-up of no attempts");
  return rest.reduce(merge, first);
}

const asDayTotal = ({ day, seconds, what }: SessionFact): DayTotal => ({
  day,
  attempts: 1,
  practisedMs: Math.round(1000 * seconds),
  demoAttempts: what.demo === true ? 1 : 0,
});

export const mergeDayTotals = (one: DayTotal, other: DayTotal): DayTotal => ({
  day: one.day,
  attempts: one.attempts + other.attempts,
  practisedMs: one.practisedMs + other.practisedMs,
  demoAttempts: one.demoAttempts + other.demoAttempts,
});

function asGroupDay({
  group,
  day,
  item,
  like,
  what,
  seconds,
  id,
  atEpochMs,
  measured,
}: SessionFact): GroupDay {
  const best = MEASURES.flatMap((measure) => {
    const value = measureValue(measure, measured);
    return value === null || MEASURE_KINDS[measure].better === null ? [] : [[measure, value] as const];
  });
  return {
    group,
    day,
    item,
    like,
    what,
    attempts: 1,
    practisedMs: Math.round(1000 * seconds),
    all: measured,
    first: { id, atEpochMs, measured },
    best: Object.fromEntries(best),
  };
}

/** Two roll-ups of different attempts of one row as one; in any order the same. */
export function mergeGroupDays(one: GroupDay, other: GroupDay): GroupDay {
  const [first, second] = earlier(one.first, other.first) <= 0 ? [one, other] : [other, one];
  return {
    ...first,
    attempts: one.attempts + other.attempts,
    practisedMs: one.practisedMs + other.practisedMs,
    all: addMeasured(one.all, other.all),
    best: mergeBest(first.best, second.best),
  };
}

function mergeBest(one: GroupDay["best"], other: GroupDay["best"]): GroupDay["best"] {
  return Object.fromEntries(
    MEASURES.flatMap((measure) => {
      const values = [one[measure], other[measure]].filter((value) => value !== undefined);
      const pick = MEASURE_KINDS[measure].better === "more" ? Math.max : Math.min;
      return values.length === 0 ? [] : [[measure, pick(...values)] as const];
    }),
  );
}

const asReedDay = ({ group, like, day, reeds, pairs, id, atEpochMs }: SessionFact): ReedDay => ({
  group,
  harp: like.harp,
  day,
  reeds,
  pairs,
  first: { id, atEpochMs, reeds, pairs },
});

export function mergeReedDays(one: ReedDay, other: ReedDay): ReedDay {
  const first = earlier(one.first, other.first) <= 0 ? one.first : other.first;
  return {
    ...one,
    reeds: addTables(one.reeds, other.reeds),
    pairs: addTables(one.pairs, other.pairs),
    first,
  };
}

/** As the ladder of a tune has it by default: `USUAL_RULE` in core/exercise/tune-ladder.ts. */
const REACHED = { rightShare: 0.9, spreadMs: 40 };

function asItemDay({ item, day, what, id, atEpochMs, measured, bpm, like }: SessionFact): ItemDay {
  const rightShare = measureValue("notes right", measured);
  const spreadMs = measureValue("timing spread", measured);
  const { hit } = measured.notes;
  const judged = tellingNotes(measured.notes);
  const reached =
    judged > 0 &&
    (rightShare ?? 0) >= REACHED.rightShare &&
    spreadMs !== null &&
    spreadMs <= REACHED.spreadMs;
  return {
    item,
    day,
    what,
    attempts: 1,
    first: { id, atEpochMs, hit, judged, rightShare, spreadMs },
    last: { id, atEpochMs },
    reached: reached ? { bpm, noteValue: like.tempo.noteValue } : null,
  };
}

export function mergeItemDays(one: ItemDay, other: ItemDay): ItemDay {
  const [first, second] = earlier(one.first, other.first) <= 0 ? [one, other] : [other, one];
  const last = earlier(first.last, second.last) <= 0 ? second.last : first.last;
  const attempts = one.attempts + other.attempts;
  const [a, b] = [first.reached, second.reached];
  const faster = a === null || (b !== null && speed(b) > speed(a)) ? b : a;
  return { ...first, attempts, last, reached: faster };
}

const speed = ({ bpm, noteValue }: NonNullable<ItemDay["reached"]>) => bpm * semibreves(noteValue);

/** All roll-ups of a history, by the keys of their rows: what a full recount gives. */
export interface RollUps {
  /** By day. */
  readonly days: ReadonlyMap<PracticeDay, DayTotal>;
  readonly groupDays: ReadonlyMap<string, GroupDay>;
  readonly reedDays: ReadonlyMap<string, ReedDay>;
  readonly itemDays: ReadonlyMap<string, ItemDay>;
}

/** Key of a row: group or item, and day. */
export const rowKey = (name: string, day: PracticeDay): string => `${name} @ ${day}`;

/** @param facts in any order, each id once */
export function rollUp(facts: readonly SessionFact[]): RollUps {
  const byGroup = gathered(facts, ({ group, day }) => rowKey(group, day));
  const byItem = gathered(facts, ({ item, day }) => rowKey(item, day));
  const rows = <Key extends string, Row>(
    of: ReadonlyMap<Key, readonly SessionFact[]>,
    make: (facts: readonly SessionFact[]) => Row,
  ) => new Map([...of].map(([key, same]) => [key, make(same)]));
  return {
    days: rows(
      gathered(facts, ({ day }) => day),
      dayTotalOf,
    ),
    groupDays: rows(byGroup, groupDayOf),
    reedDays: rows(byGroup, reedDayOf),
    itemDays: rows(byItem, itemDayOf),
  };
}

function gathered<Key extends string>(facts: readonly SessionFact[], keyOf: (fact: SessionFact) => Key) {
  const byKey = new Map<Key, SessionFact[]>();
  for (const fact of facts) {
    const same = byKey.get(keyOf(fact));
    if (same === undefined) byKey.set(keyOf(fact), [fact]);
    else same.push(fact);
  }
  return byKey;
}
