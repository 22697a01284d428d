import { median } from "../listen/median.ts";
import { type Seconds, seconds } from "../units.ts";
import type { Burst } from "./bursts.ts";
import { correlate } from "./correlate.ts";

/** Where one burst was found again. */
export interface BurstDelay {
  readonly delaySeconds: Seconds;
  /** By how much the place found stands above every other place, in decibels. */
  readonly clearDb: number;
}

/** What playing a sound and recording it says about the delay between the two. */
export type LoopbackDelay =
  | {
      readonly kind: "found";
      /** Median over the clear bursts. */
      readonly delaySeconds: Seconds;
      /** From the smallest to the largest of them. */
      readonly spreadSeconds: Seconds;
      readonly clearBursts: number;
      readonly bursts: number;
      /** Median over the clear bursts. */
      readonly clearDb: number;
    }
  | { readonly kind: "not heard"; readonly clearBursts: number; readonly bursts: number }
  | { readonly kind: "unsteady"; readonly spreadSeconds: Seconds; readonly clearBursts: number };

/** One published method accepts a place only if it stands so far above the rest [F55]. */
const CLEAR_DB = 18;
/** A larger spread is no delay but a sound system that slips [P]. */
const WIDEST_SPREAD_SECONDS = 0.005;
/** Of the bursts played, so many must be clear, and no fewer than three. */
const CLEAR_SHARE = 0.6;
const LEAST_CLEAR = 3;
/** Wireless headphones have 0.3 s [M]; twice that is looked for. */
const LONGEST_SECONDS = 0.6;
/** The clocks of both ends may be this far apart. */
const EARLIEST_SECONDS = -0.02;
/** The room answers right behind the sound; that is no other place. */
const ECHO_BEFORE_SECONDS = 0.01;
const ECHO_AFTER_SECONDS = 0.06;
/** So far below nothing else counts: -120 dB. */
const NO_REST = 1e-6;
/** A loudspeaker turned away may be heard louder by way of a wall: the first arrival counts, if half as strong. */
const FIRST_ARRIVAL_SHARE = 0.5;

/**
 * Finds by how much later a recording holds what was played.
 *
 * @param bursts         what was played, with its place in the sound
 * @param recording      one channel, nominally -1..1
 * @param playedSeconds  when the first sample of the sound was due, counted from the first sample of the recording
 */
export function loopbackDelay(
  bursts: readonly Burst[],
  recording: Float32Array,
  sampleRateHz: number,
  playedSeconds: Seconds,
): LoopbackDelay {
  const played = Math.round(playedSeconds * sampleRateHz);
  const found = bursts.flatMap((burst) => delayOfBurst(burst, recording, sampleRateHz, played) ?? []);
  const clear = found.filter(({ clearDb }) => clearDb >= CLEAR_DB);
  if (clear.length < Math.max(LEAST_CLEAR, CLEAR_SHARE * bursts.length))
    return { kind: "not heard", clearBursts: clear.length, bursts: bursts.length };
  const delays = clear.map(({ delaySeconds }) => delaySeconds);
  const spreadSeconds = seconds(Math.max(...delays) - Math.min(...delays));
  if (spreadSeconds > WIDEST_SPREAD_SECONDS)
    return { kind: "unsteady", spreadSeconds, clearBursts: clear.length };
  return {
    kind: "found",
    delaySeconds: seconds(median(delays)),
    spreadSeconds,
    clearBursts: clear.length,
    bursts: bursts.length,
    clearDb: median(clear.map(({ clearDb }) => clearDb)),
  };
}

/** @returns null where the recording holds nothing at all */
function delayOfBurst(
  burst: Burst,
  recording: Float32Array,
  sampleRateHz: number,
  played: number,
): BurstDelay | null {
  const earliest = Math.round(EARLIEST_SECONDS * sampleRateHz);
  const lags = Math.round(LONGEST_SECONDS * sampleRateHz) - earliest;
  const from = played + burst.start + earliest;
  const likeness = correlate(burst.samples, stretch(recording, from, burst.samples.length + lags - 1), lags);
  for (let lag = 0; lag < lags; lag++) likeness[lag] = Math.abs(likeness[lag] ?? 0);
  const best = placeOfMost(likeness, 0, lags);
  const most = likeness[best] ?? 0;
  if (!(most > 0)) return null;
  const before = best - Math.round(ECHO_BEFORE_SECONDS * sampleRateHz);
  const after = best + Math.round(ECHO_AFTER_SECONDS * sampleRateHz);
  const rest = Math.max(
    likeness[placeOfMost(likeness, 0, before)] ?? 0,
    likeness[placeOfMost(likeness, after, lags)] ?? 0,
  );
  const first = firstArrival(likeness, Math.max(0, before), best);
  return {
    delaySeconds: seconds((first + earliest) / sampleRateHz),
    clearDb: 20 * Math.log10(most / Math.max(rest, NO_REST * most)),
  };
}

/** The samples from a place that may lie before the beginning; nothing sounds there. */
function stretch(recording: Float32Array, from: number, length: number): Float32Array {
  const samples = new Float32Array(length);
  const there = recording.subarray(Math.max(0, from), Math.max(0, from + length));
  samples.set(there, Math.max(0, -from));
  return samples;
}

/** @returns -1 where there is no place between the two */
function placeOfMost(values: Float64Array, from: number, to: number): number {
  let best = -1;
  let most = Number.NEGATIVE_INFINITY;
  for (let n = Math.max(0, from); n < Math.min(to, values.length); n++) {
    const value = values[n] ?? 0;
    if (value > most) {
      most = value;
      best = n;
    }
  }
  return best;
}

/** The first peak from `from` on that is half as strong as the one at `best`. */
function firstArrival(likeness: Float64Array, from: number, best: number): number {
  const enough = FIRST_ARRIVAL_SHARE * (likeness[best] ?? 0);
  for (let n = Math.max(1, from); n < best; n++) {
    const here = likeness[n] ?? 0;
    if (here >= enough && here > (likeness[n - 1] ?? 0) && here >= (likeness[n + 1] ?? 0)) return n;
  }
  return best;
}
