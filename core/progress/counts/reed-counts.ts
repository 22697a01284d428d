import { type Exercise, lengthOf, onsetOf } from "../../exercise/exercise.ts";
import { sameAction } from "../../instrument/reed-actions.ts";
import type { Attempt, Mark } from "../../score/attempt.ts";
import { addSums, NO_SUMS, type Sums, sumsOf, withoutSums } from "./sums.ts";

/** What became of one reed action, or of the second of two in turn; counts of notes. */
export interface ReedCounts {
  /** Notes that could be judged: right, wrong or missed. */
  readonly asked: number;
  readonly wrong: number;
  readonly missed: number;
  /** Right, but sharp or flat beyond the tolerance. */
  readonly off: number;
  /** Right, but early or late beyond the tolerance. */
  readonly offBeat: number;
  /** Wrong, missed, off or off the beat, each note once. */
  readonly troubled: number;
  readonly cents: Sums;
  readonly ms: Sums;
}

/** By tab: "-3''", or the two of a pair with an arrow between, "4 > -4". */
export type ReedTable = Readonly<Record<string, ReedCounts>>;

export const NO_COUNTS: ReedCounts = {
  asked: 0,
  wrong: 0,
  missed: 0,
  off: 0,
  offBeat: 0,
  troubled: 0,
  cents: NO_SUMS,
  ms: NO_SUMS,
};

/** A longer rest between two notes gives time to get ready: they are no pair (as in the costs of a breath path). */
const LONGEST_REST_SECONDS = 0.2;

/** Names a pair of reed actions by their tab. */
export const pairName = (first: string, second: string): string => `${first} > ${second}`;

/** The two of a pair; null for a single action. */
export function pairOf(name: string): readonly [string, string] | null {
  const [first, second] = name.split(" > ");
  return first === undefined || second === undefined ? null : [first, second];
}

export const addCounts = (one: ReedCounts, other: ReedCounts): ReedCounts => combined(one, other, 1);

/** What is left of a whole without one of its parts: the exact reverse of adding. */
export const withoutCounts = (whole: ReedCounts, part: ReedCounts): ReedCounts => combined(whole, part, -1);

function combined(one: ReedCounts, other: ReedCounts, sign: 1 | -1): ReedCounts {
  const sums = sign === 1 ? addSums : withoutSums;
  return {
    asked: one.asked + sign * other.asked,
    wrong: one.wrong + sign * other.wrong,
    missed: one.missed + sign * other.missed,
    off: one.off + sign * other.off,
    offBeat: one.offBeat + sign * other.offBeat,
    troubled: one.troubled + sign * other.troubled,
    cents: sums(one.cents, other.cents),
    ms: sums(one.ms, other.ms),
  };
}

/** Both tables in one, names in order, so that equal data are equal texts. */
export function addTables(one: ReedTable, other: ReedTable): ReedTable {
  const names = [...new Set([...Object.keys(one), ...Object.keys(other)])].sort();
  return Object.fromEntries(
    names.map((name) => [name, addCounts(one[name] ?? NO_COUNTS, other[name] ?? NO_COUNTS)]),
  );
}

/** A chord is no reed action: what becomes of it says nothing of a single one. */
const isChord = (exercise: Exercise, index: number): boolean => exercise.notes[index]?.chord !== undefined;

/** Counts per reed action of an attempt; chords are left out. */
export const reedsOf = (exercise: Exercise, { marks }: Pick<Attempt, "marks">): ReedTable =>
  tableOf(marks.flatMap((mark) => (isChord(exercise, mark.index) ? [] : [[mark.tab, mark] as const])));

/**
 * Counts per pair of different reed actions that follow each other; the second note of the two is counted.
 *
 * @param exercise the attempt's own
 */
export function pairsOf(exercise: Exercise, { marks }: Pick<Attempt, "marks">): ReedTable {
  return tableOf(
    marks.flatMap((mark, place): (readonly [string, Mark])[] => {
      const before = marks[place - 1];
      if (before === undefined || sameAction(before.action, mark.action)) return [];
      if (isChord(exercise, before.index) || isChord(exercise, mark.index)) return [];
      return restBefore(exercise, mark.index) > LONGEST_REST_SECONDS
        ? []
        : [[pairName(before.tab, mark.tab), mark]];
    }),
  );
}

function restBefore(exercise: Exercise, index: number): number {
  const [before, note] = [exercise.notes[index - 1], exercise.notes[index]];
  if (before === undefined || note === undefined) return Number.POSITIVE_INFINITY;
  return onsetOf(exercise, note) - onsetOf(exercise, before) - lengthOf(exercise, before);
}

function tableOf(named: readonly (readonly [string, Mark])[]): ReedTable {
  const byName = new Map<string, ReedCounts>();
  for (const [name, mark] of named) {
    const counts = countsOf(mark);
    if (counts !== null) byName.set(name, addCounts(byName.get(name) ?? NO_COUNTS, counts));
  }
  return addTables({}, Object.fromEntries(byName));
}

/** Null for a note that could not be judged: it accuses nobody. */
function countsOf({ verdict, intonation, timing, cents, ms }: Mark): ReedCounts | null {
  if (verdict === "not measured") return null;
  const one = (claim: boolean) => (claim ? 1 : 0);
  const hit = verdict === "hit";
  const off = hit && (intonation === "sharp" || intonation === "flat");
  const offBeat = hit && (timing === "early" || timing === "late");
  return {
    asked: 1,
    wrong: one(verdict === "wrong"),
    missed: one(verdict === "missed"),
    off: one(off),
    offBeat: one(offBeat),
    troubled: one(!hit || off || offBeat),
    cents: hit && intonation !== null && cents !== null ? sumsOf([cents]) : NO_SUMS,
    ms: hit && ms !== null ? sumsOf([ms]) : NO_SUMS,
  };
}
