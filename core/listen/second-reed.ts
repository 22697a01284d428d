import type { NoteSpectrum } from "./note-spectrum.ts";

/** A reed that may sound along with a note. */
export interface SecondReed {
  readonly hz: number;
  /** Against the note, over the harmonics that can be told apart. */
  readonly levelDb: number;
  /** The likeliest of a few levels: unlike `levelDb` not lifted by strays. */
  readonly likelyDb: number;
  /** Natural log-likelihood ratio: how much better the sound is explained with this reed than without. */
  readonly evidence: number;
}

/** From and to, in semitones from the note. */
export type Stretch = readonly [number, number];

/** Reeds of neighbouring holes in one breath lie this far apart, in semitones; an octave cannot be told apart. */
export const ANYWHERE: readonly Stretch[] = [
  [-7.5, -1.5],
  [1.5, 7.5],
];
/** Lines are looked at up to this harmonic of the note. */
const HIGHEST_HARMONIC = 10.5;
/** Levels tried, dB against the note: first few, then all. */
const COARSE = levels([-5, -11, -17, -23]);
const FINE = levels([-3, -6, -9, -12, -15, -18, -21, -24, -27, -30]);
/** Candidates that are weighed. */
const SHORTLIST = 8;
/** Steps between candidates, in turns per window at the highest line. */
const STEP_TURNS = 0.35;
/** Chance that a line holds something else altogether, and how many factors of e that may span. */
const STRAY = 0.05;
const STRAY_SPAN = 14;
/** [calc] Mean of ln(1 + y) where y has an exponential distribution of mean 1: e E1(1) = 0.596. */
const NOISE_GAIN = 0.6;

/**
 * The pitch at which a second reed explains best what is left of a note's spectrum.
 *
 * A reed is expected to be built like the note, each harmonic by chance stronger or weaker; noise has an exponential
 * distribution in each bin; and any line may be something else altogether, so that no single one decides.
 *
 * @param spectrum of the note, its own harmonics taken away
 * @param noise    mean of each bin where no other reed sounds
 * @param where    stretches to look in
 * @returns null where no line of any candidate can be seen
 */
export function strongestReed(
  spectrum: NoteSpectrum,
  noise: Float64Array,
  where: readonly Stretch[],
): SecondReed | null {
  let best: Weighed | null = null;
  for (const ratio of shortlist(spectrum, noise, where)) {
    const tried = weigh(spectrum, noise, ratio, COARSE);
    if (tried !== null && (best === null || tried.evidence > best.evidence)) best = tried;
  }
  if (best === null) return null;
  const half = stepOf(spectrum) / 2;
  let finest = best;
  for (const factor of [1 - half, 1, 1 + half]) {
    const tried = weigh(spectrum, noise, best.ratio * factor, FINE);
    if (tried !== null && (finest === best || tried.evidence > finest.evidence)) finest = tried;
  }
  const { evidence, likelyDb, seenDb } = finest;
  return { hz: finest.ratio * spectrum.spacing * spectrum.binHz, levelDb: seenDb, likelyDb, evidence };
}

const topBin = ({ bins, spacing }: NoteSpectrum) => Math.min(bins, Math.floor(HIGHEST_HARMONIC * spacing));

/** Ratio between two candidates, less 1. */
function stepOf(spectrum: NoteSpectrum): number {
  return (STEP_TURNS * spectrum.binsPerTurn) / topBin(spectrum);
}

/** Pitches, as ratios to the note's, whose lines hold most. */
function shortlist(
  spectrum: NoteSpectrum,
  noise: Float64Array,
  where: readonly Stretch[],
): readonly number[] {
  const gain = gains(spectrum, noise);
  const top = topBin(spectrum);
  const step = 1 + stepOf(spectrum);
  const peaks: { ratio: number; score: number }[] = [];
  for (const [low, high] of where) {
    let before = Number.NEGATIVE_INFINITY;
    let rising = false;
    const end = 2 ** (high / 12);
    for (let ratio = 2 ** (low / 12); ratio <= end; ratio *= step) {
      const apart = ratio * spectrum.spacing;
      let score = 0;
      for (let at = apart; at <= top; at += apart) score += gain[Math.round(at)] as number;
      if (score > before) rising = true;
      else if (score < before) {
        if (rising) peaks.push({ ratio: ratio / step, score: before });
        rising = false;
      }
      before = score;
    }
    if (rising) peaks.push({ ratio: end, score: before });
  }
  peaks.sort((a, b) => b.score - a.score);
  return peaks.slice(0, SHORTLIST).map((peak) => peak.ratio);
}

/** What a line adds in each bin: grows with its strength, but slowly, and is 0 on average in noise. */
function gains(spectrum: NoteSpectrum, noise: Float64Array): Float64Array {
  const { left, clear } = spectrum;
  const gain = new Float64Array(topBin(spectrum) + 2);
  for (let j = 0; j < gain.length; j++) {
    if (clear[j] === 1) gain[j] = Math.log(1 + (left[j] as number) / (noise[j] as number)) - NOISE_GAIN;
  }
  return gain;
}

interface Levels {
  readonly db: readonly number[];
  /** Shares of the note's power. */
  readonly share: Float64Array;
}

function levels(db: readonly number[]): Levels {
  return { db, share: Float64Array.from(db, (level) => 10 ** (level / 10)) };
}

interface Weighed {
  readonly ratio: number;
  readonly evidence: number;
  /** The likeliest of the levels tried. */
  readonly likelyDb: number;
  /** Power seen in the lines against the note's. */
  readonly seenDb: number;
}

function weigh(spectrum: NoteSpectrum, noise: Float64Array, ratio: number, levels: Levels): Weighed | null {
  const { left, powers, clear } = spectrum;
  const top = topBin(spectrum);
  const apart = ratio * spectrum.spacing;
  const products = new Float64Array(levels.db.length).fill(1);
  let seen = 0;
  let own = 0;
  for (let k = 0; k < powers.length; k++) {
    const j = Math.round((k + 1) * apart);
    if (j > top) break;
    if (clear[j] === 0) continue;
    const mean = noise[j] as number;
    const power = powers[k] as number;
    seen += Math.max(0, (left[j] as number) - mean);
    own += power;
    multiply(products, levels.share, (left[j] as number) / mean, power / mean);
  }
  if (own <= 0) return null;
  let likeliest = 0;
  for (let n = 1; n < products.length; n++) {
    if ((products[n] as number) > (products[likeliest] as number)) likeliest = n;
  }
  return {
    ratio,
    evidence: Math.log(products[likeliest] as number),
    likelyDb: levels.db[likeliest] as number,
    seenDb: 10 * Math.log10(Math.max(seen / own, 1e-9)),
  };
}

/**
 * Multiplies in the likelihood ratio of one line at every level.
 *
 * @param over  power in the line's bin against the mean of the noise
 * @param power power of the note's harmonic of the same number against it
 */
function multiply(products: Float64Array, shares: Float64Array, over: number, power: number): void {
  const stray = STRAY / (STRAY_SPAN * Math.max(over, 0.05));
  const without = (1 - STRAY) * Math.exp(-over) + stray;
  for (let n = 0; n < products.length; n++) {
    const mean = 1 + (shares[n] as number) * power;
    const withReed = ((1 - STRAY) * Math.exp(-over / mean)) / mean + stray;
    products[n] = ((products[n] as number) * withReed) / without;
  }
}
