import type { Measured } from "../../core/progress/counts/measured.ts";
import { NO_COUNTS, type ReedCounts } from "../../core/progress/counts/reed-counts.ts";
import type { SessionFact } from "../../core/progress/counts/session-fact.ts";
import { sumsOf } from "../../core/progress/counts/sums.ts";
import { dayNumber, dayOfNumber } from "../../core/progress/practice-day.ts";
import { bpm, milliseconds, seconds } from "../../core/units.ts";

/** First day of the made-up histories, 2026-01-05, a Monday. */
export const FIRST_DAY = 20_458;
export const dayAt = (number: number) => dayOfNumber(FIRST_DAY + number);

/** What a player did in one attempt; everything not said is clean. */
export interface Played {
  readonly hit?: number;
  readonly wrong?: number;
  readonly missed?: number;
  readonly plainCents?: readonly number[];
  readonly bendCents?: readonly number[];
  readonly ms?: readonly number[];
  readonly evennessMs?: number;
}

export function measured({ hit = 20, wrong = 0, missed = 0, ...played }: Played = {}): Measured {
  const { plainCents = [], bendCents = [], ms = [], evennessMs = 10 } = played;
  const notes = hit + wrong + missed;
  return {
    notes: { expected: notes, hit, wrong, missed, notMeasured: 0, extra: 0 },
    plainCents: sumsOf(plainCents),
    bendCents: sumsOf(bendCents),
    beatMs: sumsOf(ms),
    onsetMs: sumsOf(ms),
    evenness: { notes: 20, squaresTenths: 20 * Math.round(10 * evennessMs) ** 2 },
  };
}

export const counts = (asked: number, wrong = 0, changes: Partial<ReedCounts> = {}): ReedCounts => ({
  ...NO_COUNTS,
  asked,
  wrong,
  troubled: wrong,
  ...changes,
});

/** An attempt on a day (counted from the first), at an hour of it. */
export function fact(
  day: number,
  changes: Partial<SessionFact> & { readonly hour?: number } = {},
): SessionFact {
  const { hour = 12, ...rest } = changes;
  const atEpochMs = dayNumber(dayAt(day)) * 86_400_000 + hour * 3_600_000;
  return {
    id: `day ${day} hour ${hour}`,
    atEpochMs,
    day: dayAt(day),
    item: "scale up",
    group: "scale up at 90",
    like: {
      item: "scale up",
      harp: "standard G",
      way: "in time",
      tempo: { noteValue: "1/4", fromBpm: bpm(90), toBpm: bpm(99) },
      delayMs: milliseconds(40),
    },
    what: { title: "Scale", kind: "scale", position: 2, harp: "G harp", techniques: ["plain"] },
    bpm: bpm(92),
    seconds: seconds(30),
    measured: measured(),
    reeds: { "4": counts(10) },
    pairs: { "4 > -4": counts(5) },
    ...rest,
  };
}
