import type { Hz, Milliseconds } from "../units.ts";

/** What sound comes in by and goes out by. */
export interface SoundPair {
  readonly inputName: string;
  readonly outputName: string;
  readonly sampleRateHz: Hz;
}

/** A delay that was measured, and for what. */
export interface MeasuredDelay extends SoundPair {
  readonly delayMs: Milliseconds;
  readonly spreadMs: Milliseconds;
  readonly way: "loudspeaker" | "played along";
  /** Milliseconds since 1970. */
  readonly atEpochMs: number;
}

/** The delay taken off every onset, and where it comes from. */
export type DelayInUse =
  | { readonly kind: "measured"; readonly delayMs: Milliseconds; readonly measured: MeasuredDelay }
  | { readonly kind: "by hand"; readonly delayMs: Milliseconds }
  /** Nothing is known of this pair: nothing is taken off. `others` tells of other pairs. */
  | { readonly kind: "unknown"; readonly delayMs: Milliseconds; readonly others: number };

/** So many pairs are remembered, the latest ones. */
const MOST_PAIRS = 20;

const isSamePair = (one: SoundPair, other: SoundPair) =>
  one.inputName === other.inputName &&
  one.outputName === other.outputName &&
  one.sampleRateHz === other.sampleRateHz;

/** The delays with a new one, in place of any for the same pair. */
export function rememberDelay(
  delays: readonly MeasuredDelay[],
  latest: MeasuredDelay,
): readonly MeasuredDelay[] {
  return [latest, ...delays.filter((one) => !isSamePair(one, latest))].slice(0, MOST_PAIRS);
}

/**
 * Which delay is taken off what is played through this pair: one set by hand goes before all measured ones.
 *
 * @param byHand 0 where none is set
 */
export function delayInUse(
  delays: readonly MeasuredDelay[],
  byHand: Milliseconds,
  pair: SoundPair,
): DelayInUse {
  if (byHand > 0) return { kind: "by hand", delayMs: byHand };
  const measured = delays.find((one) => isSamePair(one, pair));
  if (measured !== undefined) return { kind: "measured", delayMs: measured.delayMs, measured };
  return { kind: "unknown", delayMs: byHand, others: delays.length };
}
