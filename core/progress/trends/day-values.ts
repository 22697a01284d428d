import { semibreves } from "../../tune/tempo.ts";
import {
  LEAST_NOTES,
  MEASURE_KINDS,
  type Measure,
  type Measured,
  measureNotes,
  measureValue,
  withoutMeasured,
} from "../counts/measured.ts";
import type { GroupDay, ItemDay } from "../counts/roll-ups.ts";
import type { PracticeDay } from "../practice-day.ts";
import type { LineKind } from "./trend.ts";

/** What one row gave on one day, on the scale trends are drawn on. */
export interface DayValue {
  readonly day: PracticeDay;
  /** What is compared only with itself. */
  readonly row: string;
  readonly y: number;
  /** Notes it rests on; of a tempo, 1. */
  readonly notes: number;
}

/**
 * How values become comparable: a spread of 12 that goes to 9 and one of 20 that goes to 15 are the same step, so spreads,
 * distances and tempi go by their logarithm; shares and biases go as they are.
 */
export type ValueScale = "log" | "plain";

export const scaleOf = (measure: Measure): ValueScale =>
  MEASURE_KINDS[measure].unit === "share" || MEASURE_KINDS[measure].better === null ? "plain" : "log";

/** Values are kept to a tenth; the logarithm of less is not asked for. */
const LEAST_VALUE = 0.1;

/**
 * Logarithm of a deviation, freed of what few notes take from it: of n notes the mean logarithm lies 1/(2v) + 1/(6v²) too
 * low, v = n - 1, 0.08 at eight notes. Without it, longer exercises would look like a growing spread.
 *
 * Source: M. S. Bartlett and D. G. Kendall, Supplement to the JRSS 8 (1946) 128-138, the logarithm of a variance estimate; two
 * terms of the digamma function's series.
 */
export function logDeviation(deviation: number, notes: number): number {
  const free = Math.max(notes - 1, 1);
  return Math.log(Math.max(deviation, LEAST_VALUE)) + 1 / (2 * free) + 1 / (6 * free * free);
}

/** Values of a measure for one line, each group of like attempts a row of its own. */
export function groupValues(
  kind: LineKind,
  measure: Measure,
  days: readonly GroupDay[],
): readonly DayValue[] {
  if (kind === "best") return days.flatMap((day) => bestValue(measure, day));
  const first = days.flatMap(({ day, group, first }) =>
    measuredOn(measure, day, `${group} first`, first.measured),
  );
  return kind === "first" ? first : [...first, ...days.flatMap((day) => laterValue(measure, day))];
}

/** Later attempts of a day are warm: they are compared with later ones of other days, never with a first one. */
function laterValue(measure: Measure, { day, group, attempts, all, first }: GroupDay): readonly DayValue[] {
  return attempts < 2 ? [] : measuredOn(measure, day, `${group} later`, withoutMeasured(all, first.measured));
}

function measuredOn(
  measure: Measure,
  day: PracticeDay,
  row: string,
  measured: Measured,
): readonly DayValue[] {
  const value = measureValue(measure, measured);
  if (value === null) return [];
  const notes = measureNotes(measure, measured);
  return [{ day, row, y: scaleOf(measure) === "log" ? logDeviation(value, notes) : value, notes }];
}

function bestValue(measure: Measure, { day, group, attempts, all, best }: GroupDay): readonly DayValue[] {
  const value = best[measure];
  if (value === undefined) return [];
  const notes = Math.max(LEAST_NOTES, Math.round(measureNotes(measure, all) / attempts));
  const y = scaleOf(measure) === "log" ? Math.log(Math.max(value, LEAST_VALUE)) : value;
  return [{ day, row: group, y, notes }];
}

/** Logarithm of the fastest tempo held, in semibreves a minute; the tempo itself, not the band it lies in. */
export const tempoValues = (days: readonly ItemDay[]): readonly DayValue[] =>
  days.flatMap(({ day, item, reached }) =>
    reached === null
      ? []
      : [{ day, row: item, y: Math.log(reached.bpm * semibreves(reached.noteValue)), notes: 1 }],
  );
