import { isForTiming } from "../corpus/recipes.ts";
import { NO_SCORE, type TakeScore, together } from "../measures/take-score.ts";
import type { MarksDelay } from "../run/marks-delay.ts";
import type { Speed } from "../run/speed.ts";

/** One engine on one take. */
export interface TakeResult {
  readonly take: string;
  readonly group: string;
  readonly score: TakeScore;
}

/** All that was measured with one seed. */
export interface SeedResult {
  readonly seed: number;
  /** By engine, in the order of the tables. */
  readonly engines: ReadonlyMap<string, readonly TakeResult[]>;
  /** This program where it knows how the holes lie, on the takes that tell of second reeds. */
  readonly harpKnown: readonly TakeResult[];
  /** Of this program's stream, by take. */
  readonly liveMs: ReadonlyMap<string, readonly number[]>;
}

/** What does not depend on the seed. */
export interface Timed {
  readonly speeds: readonly Speed[];
  /** Null where not timed. */
  readonly marks: MarksDelay | null;
}

/** The takes that have a figure of their own, by name. */
export const TAKES = {
  synthetic: /^(?!sf_)/,
  notTremolo: /^(?!sf_|long_trem)/,
  /** Both tempi, all kinds of noise at 10 dB and better. */
  inNoise: /^(mel250|reel125)_(white|pink)\d+$/,
  inNoiseOrLaptop: /^(mel250|reel125)_((white|pink)\d+|laptop)$/,
  at20: /^(mel250|reel125)_(white|pink)20$/,
  at10: /^(mel250|reel125)_(white|pink)10$/,
  leak12: /^(mel250|reel125)_leak12$/,
  reverb: /^(mel250|reel125)_reverb$/,
  recordedMelodies: /^sf_.*_harm_(250|125)$/,
  recordedBends: /^sf_.*_harm_bend$/,
  tremolo: /^long_trem$/,
} as const;

/** An engine's score over the takes of a name; empty where there are none. */
export const scoreOver = (result: SeedResult, engine: string, takes: RegExp): TakeScore =>
  scoreOf(result.engines.get(engine) ?? [], takes);

export function scoreOf(results: readonly TakeResult[], takes: RegExp): TakeScore {
  const of = results.filter(({ take }) => takes.test(take) && !isForTiming(take));
  return of.length === 0 ? NO_SCORE : together(of.map(({ score }) => score));
}

export function liveOver(result: SeedResult, takes: RegExp): number[] {
  return [...result.liveMs].filter(([take]) => takes.test(take)).flatMap(([, delays]) => delays);
}
