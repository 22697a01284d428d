import { median } from "../listen/median.ts";
import { type Seconds, seconds } from "../units.ts";

/** What playing one note on each of a row of beats says about the delay. */
export type PlayedAlongDelay =
  | {
      readonly kind: "found";
      /** Median; people play a little early [F37], so it comes out too small by that much. */
      readonly delaySeconds: Seconds;
      /** Sample standard deviation of the notes that counted. */
      readonly spreadSeconds: Seconds;
      /** Beats with a note that counted; the others had none, or one far from the rest. */
      readonly usedBeats: number;
      readonly beats: number;
    }
  | { readonly kind: "too few"; readonly usedBeats: number; readonly beats: number }
  | { readonly kind: "uneven"; readonly spreadSeconds: Seconds }
  | { readonly kind: "ahead"; readonly aheadSeconds: Seconds };

/** A note belongs to a beat from so much before it ... */
const EARLIEST_SECONDS = -0.15;
/** ... to so much after it: wireless headphones come 0.3 s late [M]. */
const LATEST_SECONDS = 0.5;
/** Good players are 27 to 49 ms apart from one another [F35]: what lies further off than twice that is a slip. */
const SLIP_SECONDS = 0.1;
const LEAST_BEATS = 5;
/** Beyond this the beats were not met, and their middle says nothing. */
const WIDEST_SPREAD_SECONDS = 0.05;
/** Ahead of the beat by more than people are, so that no delay is left to be told. */
const FURTHEST_AHEAD_SECONDS = 0.03;

/** Beats must be further apart than this, or a note could belong to two. */
export const LEAST_BEAT_SECONDS = LATEST_SECONDS - EARLIEST_SECONDS;

/**
 * The delay by which notes come in that a player put on beats he heard.
 *
 * @param beats  when each left for the loudspeaker, at least `LEAST_BEAT_SECONDS` apart
 * @param onsets when notes were heard to begin, on the same clock
 */
export function playedAlongDelay(beats: readonly Seconds[], onsets: readonly Seconds[]): PlayedAlongDelay {
  const late = beats.map((beat) =>
    onsets.map((onset) => onset - beat).filter((by) => by >= EARLIEST_SECONDS && by <= LATEST_SECONDS),
  );
  const middle = mostCommon(late.flat());
  const used = late.flatMap((choices) => nearest(choices, middle) ?? []);
  if (used.length < LEAST_BEATS) return { kind: "too few", usedBeats: used.length, beats: beats.length };
  const delay = median(used);
  const spreadSeconds = seconds(deviation(used));
  if (spreadSeconds > WIDEST_SPREAD_SECONDS) return { kind: "uneven", spreadSeconds };
  if (delay < -FURTHEST_AHEAD_SECONDS) return { kind: "ahead", aheadSeconds: seconds(-delay) };
  return {
    kind: "found",
    delaySeconds: seconds(Math.max(0, delay)),
    spreadSeconds,
    usedBeats: used.length,
    beats: beats.length,
  };
}

/** The value that has most of the others near it; of several, the middle one's neighbourhood is as good. */
function mostCommon(values: readonly number[]): number {
  const near = (value: number) => values.filter((other) => Math.abs(other - value) <= SLIP_SECONDS);
  const counts = values.map((value) => near(value).length);
  const most = Math.max(0, ...counts);
  const crowded = values.filter((_, place) => counts[place] === most);
  return crowded.length === 0 ? 0 : median(near(median(crowded)));
}

function nearest(choices: readonly number[], middle: number): number | null {
  const close = choices.filter((by) => Math.abs(by - middle) <= SLIP_SECONDS);
  return close.sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle))[0] ?? null;
}

function deviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}
