import type { Harp } from "../../instrument/harp.ts";
import { BREATHS, type Breath, reedAt } from "../../instrument/layout.ts";
import { beatsPerSecond, pureRatio } from "../../pitch/beat-rate.ts";
import type { Ratio } from "../../pitch/ratios.ts";
import { type Hz, hz, type Semitones, semitones } from "../../units.ts";
import { type ReedResult, resultAt } from "./reed-results.ts";

/** Two holes that can be sounded together on one breath, the lower note first. */
export interface ReedPair {
  readonly breath: Breath;
  readonly lowHole: number;
  readonly highHole: number;
  /** Between the notes as the layout has them, >= 0. */
  readonly semitones: Semitones;
  /** Over the low note: 2/1 an octave, 3/2 a fifth, 5/4 a major third. */
  readonly ratio: Ratio;
}

/** A pair with its beats as calculated. */
export interface PairBeats extends ReedPair {
  /** |over x low - under x high| in a second, from the measured reeds; null unless both were. */
  readonly measured: number | null;
  /** The same as both should be tuned. */
  readonly wanted: number;
  /** From pure, in cents, positive is wide; null unless both were measured. */
  readonly wideCents: number | null;
}

/** Corners of the mouth around up to three holes that the tongue covers. Common practice. */
const MOST_HOLES_APART = 4;

/** Pairs of holes within the mouth's reach whose interval has a pure ratio, octaves first, then fifths, then thirds, then the rest. */
export function reedPairs(harp: Harp): readonly ReedPair[] {
  const pairs = BREATHS.flatMap((breath) =>
    harp.layout.holes.flatMap((_, place) =>
      Array.from({ length: MOST_HOLES_APART }, (__, n) => pairOf(harp, breath, place + 1, place + 2 + n)),
    ),
  ).filter((pair) => pair !== null);
  return pairs.sort((a, b) => rank(a) - rank(b));
}

/** Two holes of one breath; null where one has no reed or their interval has no pure ratio. */
export function pairOf(harp: Harp, breath: Breath, one: number, other: number): ReedPair | null {
  const [a, b] = [reedAt(harp.layout, one, breath), reedAt(harp.layout, other, breath)];
  if (one === other || a === null || b === null) return null;
  const [lowHole, highHole] = a <= b ? [one, other] : [other, one];
  const apart = semitones(Math.abs(b - a));
  const ratio = pureRatio(apart);
  return ratio === null ? null : { breath, lowHole, highHole, semitones: apart, ratio };
}

/** What tuners listen to first comes first. */
const ORDER: readonly number[] = [0, 7, 4];

function rank({ semitones: apart }: ReedPair): number {
  const place = ORDER.indexOf(apart % 12);
  return place < 0 ? ORDER.length : place;
}

/** The beats of a pair from the reeds as measured and as they should be. */
export function pairBeats(pair: ReedPair, results: readonly ReedResult[]): PairBeats {
  const low = resultAt(results, { hole: pair.lowHole, breath: pair.breath });
  const high = resultAt(results, { hole: pair.highHole, breath: pair.breath });
  const beats = (lowHz: Hz, highHz: Hz) => beatsPerSecond(lowHz, highHz, pair.semitones) ?? 0;
  const both = low !== null && high !== null && low.hz !== null && high.hz !== null;
  const pure = pair.ratio.over / pair.ratio.under;
  return {
    ...pair,
    measured: both ? beats(low.hz as Hz, high.hz as Hz) : null,
    wanted: beats(low?.targetHz ?? hz(1), high?.targetHz ?? hz(pure)),
    wideCents: both ? 1200 * Math.log2((high.hz as Hz) / (low.hz as Hz) / pure) : null,
  };
}
