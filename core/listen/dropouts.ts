import { type Seconds, seconds } from "../units.ts";
import type { Hole, Listening } from "./listening.ts";

/** Shorter runs of exact zeros occur in quiet passages. */
const SHORTEST_SECONDS = 0.002;
/** Longer ones are a pause. */
const LONGEST_SECONDS = 0.1;
/** Shorter holes are bridged while listening. */
const SHORTEST_HOLE_SECONDS = 0.025;
/** A take that misses more in one place ends there. */
const LONGEST_HOLE_SECONDS = 1;
/** Right beside a hole sounds as much as a little further off: a note that ends has faded by then. */
const EDGE_SECONDS = 0.003;
const AROUND_SECONDS = 0.012;
const ABRUPT_SHARE = 0.5;
/** Softer than -60 dBFS a hole is not heard. */
const LEAST_PEAK = 0.001;

/**
 * Counts the holes a sound system left in a recording: exact zeros, 2 to 100 ms long, cut out of sound. A microphone is
 * never exactly silent by itself.
 */
export function countDropouts(samples: Float32Array, sampleRateHz: number): number {
  return holesOf(samples, sampleRateHz, SHORTEST_SECONDS, LONGEST_SECONDS).length;
}

/**
 * What was heard, with the places where sound is missing that cannot be bridged, 25 ms to a second long.
 *
 * @param known places where samples never came, in seconds of the take; such holes show by themselves only within sound
 */
export function withHoles(
  listening: Listening,
  samples: Float32Array,
  sampleRateHz: number,
  known: readonly Hole[] = [],
): Listening {
  const found = holesOf(samples, sampleRateHz, SHORTEST_HOLE_SECONDS, LONGEST_HOLE_SECONDS);
  const isNew = (hole: Hole) =>
    known.every((one) => Math.abs(one.fromSeconds - hole.fromSeconds) > EDGE_SECONDS);
  const holes = [...known, ...found.filter(isNew)].toSorted((a, b) => a.fromSeconds - b.fromSeconds);
  return holes.length === 0 ? listening : { ...listening, holes };
}

/** Exact zeros cut abruptly out of sound, by onset. */
function holesOf(
  samples: Float32Array,
  sampleRateHz: number,
  shortest: number,
  longest: number,
): readonly Hole[] {
  const edge = Math.round(EDGE_SECONDS * sampleRateHz);
  const around = Math.round(AROUND_SECONDS * sampleRateHz);
  const peak = (from: number, to: number) =>
    samples
      .subarray(Math.max(0, from), Math.max(0, to))
      .reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  const isCut = (beside: number, further: number) => beside >= LEAST_PEAK && beside >= ABRUPT_SHARE * further;
  const at = (sample: number): Seconds => seconds(sample / sampleRateHz);
  const holes: Hole[] = [];
  for (let from = samples.indexOf(0); from >= 0; ) {
    let to = from;
    while (samples[to] === 0) to++;
    const lasts = (to - from) / sampleRateHz;
    const isHole =
      lasts >= shortest &&
      lasts <= longest &&
      isCut(peak(from - edge, from), peak(from - around, from)) &&
      isCut(peak(to, to + edge), peak(to, to + around));
    if (isHole) holes.push({ fromSeconds: at(from), toSeconds: at(to) });
    from = samples.indexOf(0, to);
  }
  return holes;
}
