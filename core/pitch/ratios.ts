import { type Cents, cents } from "../units.ts";

/** A frequency ratio, upper over lower, as it is written: 3/2. */
export interface Ratio {
  readonly over: number;
  readonly under: number;
}

/** "27/16" as a ratio; for our own tables. @throws RangeError if it is not one */
export function ratio(text: string): Ratio {
  const match = /^(\d+)\/(\d+)$/.exec(text);
  if (match === null) throw new RangeError(`"${text}" is not a ratio`);
  return { over: Number(match[1]), under: Number(match[2]) };
}

/** Size of a ratio: 1200 log2(over / under). */
export function ratioCents(of: Ratio): Cents {
  return cents(1200 * Math.log2(of.over / of.under));
}

/** How far a ratio lies from so many equal semitones; positive is sharp. */
export function ratioDeviation(of: Ratio, equalSemitones: number): Cents {
  return cents(ratioCents(of) - 100 * equalSemitones);
}
