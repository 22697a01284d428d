import type { Measure } from "../counts/measured.ts";
import { NO_COUNTS, type ReedCounts, withoutCounts } from "../counts/reed-counts.ts";
import type { ReedDay } from "../counts/roll-ups.ts";
import { deviationOf, meanOf, type Sums } from "../counts/sums.ts";
import { type DayValue, logDeviation } from "../trends/day-values.ts";
import { type SpotKind, tableOf, troubleOf } from "./spot-tally.ts";

/** What is told of one reed action or pair. */
export const SPOT_MEASURES = [
  "notes right",
  "intonation bias",
  "intonation spread",
  "timing spread",
] as const satisfies readonly Measure[];
export type SpotMeasure = (typeof SPOT_MEASURES)[number];

/** A spread of fewer notes says too little even among many days; there are few of one reed action in an attempt. */
const LEAST_FOR_SPREAD = 4;

/** Values of one reed action or pair, each group of like attempts a row of its own, later attempts apart from first ones. */
export function reedValues(
  line: "first" | "day",
  measure: SpotMeasure,
  spot: { readonly kind: SpotKind; readonly name: string },
  days: readonly ReedDay[],
): readonly DayValue[] {
  return days.flatMap((day) => {
    const all = tableOf(spot.kind, day)[spot.name] ?? NO_COUNTS;
    const first = tableOf(spot.kind, day.first)[spot.name] ?? NO_COUNTS;
    const cold = countedOn(measure, day, "first", first);
    return line === "first"
      ? cold
      : [...cold, ...countedOn(measure, day, "later", withoutCounts(all, first))];
  });
}

function countedOn(
  measure: SpotMeasure,
  { day, group }: ReedDay,
  which: string,
  counts: ReedCounts,
): readonly DayValue[] {
  const value = countedValue(measure, counts);
  return value === null ? [] : [{ day, row: `${group} ${which}`, ...value }];
}

function countedValue(measure: SpotMeasure, counts: ReedCounts): Pick<DayValue, "y" | "notes"> | null {
  const { asked, wrong, missed, cents, ms } = counts;
  switch (measure) {
    case "notes right":
      return asked === 0 ? null : { y: 1 - (wrong + missed) / asked, notes: asked };
    case "intonation bias": {
      const mean = meanOf(cents);
      return mean === null ? null : { y: mean, notes: cents.n };
    }
    case "intonation spread":
      return spreadOf(cents);
    case "timing spread":
      return spreadOf(ms);
  }
}

function spreadOf(sums: Sums): Pick<DayValue, "y" | "notes"> | null {
  const deviation = sums.n < LEAST_FOR_SPREAD ? null : deviationOf(sums);
  return deviation === null ? null : { y: logDeviation(deviation, sums.n), notes: sums.n };
}

/**
 * Troubled share of a reed action or pair less that of all other notes in the same first attempt: what makes every note of a day
 * harder, or moves every note's cents or milliseconds, takes no part.
 */
export function coldBeyondUsual(kind: SpotKind, name: string, days: readonly ReedDay[]): readonly DayValue[] {
  return days.flatMap(({ day, group, first }) => {
    const table = tableOf(kind, first);
    const own = table[name];
    if (own === undefined || own.asked === 0) return [];
    const all = troubleOf(table);
    const others = all.asked - own.asked;
    if (others === 0) return [];
    const beyond = own.troubled / own.asked - (all.troubled - own.troubled) / others;
    return [{ day, row: group, y: beyond, notes: own.asked }];
  });
}
