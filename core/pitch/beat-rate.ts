import type { Hz } from "../units.ts";
import { type Ratio, ratio } from "./ratios.ts";

/**
 * The simple ratio an interval beats against, by whole semitones within the octave. Seconds, sevenths and the tritone
 * have none narrow enough to count beats by.
 */
const PURE: Readonly<Record<number, Ratio>> = {
  0: ratio("1/1"),
  3: ratio("6/5"),
  4: ratio("5/4"),
  5: ratio("4/3"),
  7: ratio("3/2"),
  8: ratio("8/5"),
  9: ratio("5/3"),
};

/** The pure ratio of an interval of whole semitones >= 0, octaves added: 12 is 2/1, 16 is 5/2; or null. */
export function pureRatio(intervalSemitones: number): Ratio | null {
  const inOctave = PURE[intervalSemitones % 12];
  if (inOctave === undefined) return null;
  const { over, under } = inOctave;
  const octaves = 2 ** Math.floor(intervalSemitones / 12);
  // Octaves come off the lower number first, so that the ratio stays in lowest terms: 8/5 an octave up is 16/5, 5/4 is 5/2.
  const shared = greatestCommonDivisor(over * octaves, under);
  return { over: (over * octaves) / shared, under: under / shared };
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}

/**
 * Beats in a second between two notes: |over x low - under x high| for the pure ratio over/under, so 2/1 for an octave, 3/2
 * for a fifth, 5/4 for a major third. The lowest pair of partials that nearly meet beats at this rate.
 *
 * @returns null where the interval has no simple ratio
 */
export function beatsPerSecond(low: Hz, high: Hz, intervalSemitones: number): number | null {
  const pure = pureRatio(intervalSemitones);
  return pure === null ? null : Math.abs(pure.over * low - pure.under * high);
}
