/** Blocks of about this length are short enough for phases not to turn over, long enough to tell harmonics apart. */
const BLOCK_SECONDS = 0.008;
/** No harmonic above this is used: microphones and rooms leave little there. */
const HIGHEST_HZ = 16_000;
const MOST_HARMONICS = 40;
/** Harmonics taken into account in each round: the low ones lead the high ones, whose phase turns too fast at first. */
const ROUNDS = [1, 3, 8, MOST_HARMONICS];
const STEPS_A_ROUND = 4;
const FEWEST_BLOCKS = 3;

export interface HarmonicFit {
  readonly hz: number;
  /** Share of the harmonics' energy that one steady pitch explains, 0..1. */
  readonly steadiness: number;
}

/**
 * Frequency of a steady harmonic tone by least squares: the frequency at which the harmonics, each with a free
 * strength and phase, explain most of the sound.
 *
 * Each harmonic is brought down to 0 Hz in blocks of a whole number of periods, in which harmonics do not disturb each
 * other; Newton's method then turns the block phases until they add up best. In white noise that is the maximum
 * likelihood estimate, which nears the Cramer-Rao bound (Kay, Fundamentals of Statistical Signal Processing:
 * Estimation Theory, 1993, section 3.11; Christensen and Jakobsson, Multi-Pitch Estimation, 2009, chapter 2).
 *
 * @param samples  the settled part of one note
 * @param rateHz   sample rate
 * @param guessHz  first guess, within a few cents
 * @returns null where the part is shorter than three blocks
 */
export function fitHarmonics(samples: Float64Array, rateHz: number, guessHz: number): HarmonicFit | null {
  const length = blockLength(rateHz / guessHz, BLOCK_SECONDS * rateHz);
  const blocks = Math.floor(samples.length / length);
  const harmonics = Math.min(MOST_HARMONICS, Math.floor(Math.min(HIGHEST_HZ, 0.45 * rateHz) / guessHz));
  if (blocks < FEWEST_BLOCKS || harmonics < 1) return null;
  const phasors = demodulate(samples, guessHz / rateHz, length, blocks, harmonics);
  const blockSeconds = length / rateHz;
  let offset = 0;
  for (const upTo of ROUNDS) {
    for (let step = 0; step < STEPS_A_ROUND; step++) {
      offset += newtonStep(phasors, blocks, Math.min(upTo, harmonics), blockSeconds, offset);
    }
  }
  if (Math.abs(offset) > guessHz * 0.02) return null; // ran away: a third of a semitone from the guess
  return { hz: guessHz + offset, steadiness: explained(phasors, blocks, harmonics, blockSeconds, offset) };
}

/** Samples nearest to a whole number of periods: of the first few block lengths, the one with the least left over. */
function blockLength(period: number, wanted: number): number {
  const first = Math.max(1, Math.ceil(wanted / period));
  let best = Math.round(first * period);
  let least = Number.POSITIVE_INFINITY;
  for (let count = first; count < first + 3; count++) {
    const over = Math.abs(count * period - Math.round(count * period));
    if (over < least) {
      least = over;
      best = Math.round(count * period);
    }
  }
  return best;
}

/**
 * For harmonic k and block b, the sum of the samples times exp(-2 pi i k f n): real and imaginary part in turn.
 *
 * Around the middle of a block the cosine is even and the sine odd, so the samples are folded there once for all
 * harmonics; and blocks are summed four at a time, as one sum alone waits for itself at every step.
 */
function demodulate(samples: Float64Array, f: number, length: number, blocks: number, harmonics: number) {
  const phasors = new Float64Array(2 * harmonics * blocks);
  const folded = foldBlocks(samples, length, blocks);
  const width = folded.even.length / (LANES * Math.ceil(blocks / LANES));
  const cos = new Float64Array(width);
  const sin = new Float64Array(width);
  const sums = new Float64Array(2 * LANES);
  for (let k = 1; k <= harmonics; k++) {
    fillTurns(cos, sin, 2 * Math.PI * k * f, length % 2 === 0 ? 0.5 : 0);
    for (let b = 0; b < blocks; b += LANES) {
      sumFour(folded, b * width, cos, sin, sums);
      for (let lane = 0; lane < LANES && b + lane < blocks; lane++) {
        const re = sums[2 * lane] as number;
        const im = -(sums[2 * lane + 1] as number);
        const middle = (b + lane) * length + (length - 1) / 2;
        const turn = -2 * Math.PI * ((k * f * middle) % 1);
        const c = Math.cos(turn);
        const s = Math.sin(turn);
        const at = 2 * ((k - 1) * blocks + b + lane);
        phasors[at] = re * c - im * s;
        phasors[at + 1] = re * s + im * c;
      }
    }
  }
  return phasors;
}

/** Blocks summed side by side. */
const LANES = 4;

interface Folded {
  /** Of each block, sample + mirrored sample and sample - mirrored sample, from its middle outwards. */
  readonly even: Float64Array;
  readonly odd: Float64Array;
}

/** The number of blocks is filled up with silence to a multiple of `LANES`. */
function foldBlocks(samples: Float64Array, length: number, blocks: number): Folded {
  const width = (length + 1) >> 1;
  const even = new Float64Array(width * LANES * Math.ceil(blocks / LANES));
  const odd = new Float64Array(even.length);
  for (let b = 0; b < blocks; b++) {
    const after = b * length + (length >> 1);
    const before = b * length + ((length - 1) >> 1);
    for (let n = 0; n < width; n++) {
      const late = samples[after + n] as number;
      const early = samples[before - n] as number;
      even[b * width + n] = late + early;
      odd[b * width + n] = late - early;
    }
    // The middle of an odd length is one sample, not two.
    if (after === before) even[b * width] = samples[after] as number;
  }
  return { even, odd };
}

/** Sums of even times cos and of odd times sin over four blocks from `from` on, in turn. */
function sumFour(
  { even, odd }: Folded,
  from: number,
  cos: Float64Array,
  sin: Float64Array,
  sums: Float64Array,
): void {
  const width = cos.length;
  const two = from + width;
  const three = two + width;
  const four = three + width;
  let c1 = 0;
  let s1 = 0;
  let c2 = 0;
  let s2 = 0;
  let c3 = 0;
  let s3 = 0;
  let c4 = 0;
  let s4 = 0;
  for (let n = 0; n < width; n++) {
    const c = cos[n] as number;
    const s = sin[n] as number;
    c1 += c * (even[from + n] as number);
    s1 += s * (odd[from + n] as number);
    c2 += c * (even[two + n] as number);
    s2 += s * (odd[two + n] as number);
    c3 += c * (even[three + n] as number);
    s3 += s * (odd[three + n] as number);
    c4 += c * (even[four + n] as number);
    s4 += s * (odd[four + n] as number);
  }
  sums[0] = c1;
  sums[1] = s1;
  sums[2] = c2;
  sums[3] = s2;
  sums[4] = c3;
  sums[5] = s3;
  sums[6] = c4;
  sums[7] = s4;
}

/** cos and sin of n + `start` times an angle, by repeated rotation; over a block the rounding stays below 1e-12. */
function fillTurns(cos: Float64Array, sin: Float64Array, angle: number, start: number): void {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  let re = Math.cos(start * angle);
  let im = Math.sin(start * angle);
  for (let n = 0; n < cos.length; n++) {
    cos[n] = re;
    sin[n] = im;
    const next = re * c - im * s;
    im = re * s + im * c;
    re = next;
  }
}

/** One Newton step towards the offset in Hz at which the sum over harmonics of |sum over blocks|^2 is largest. */
function newtonStep(
  phasors: Float64Array,
  blocks: number,
  upTo: number,
  blockSeconds: number,
  offset: number,
) {
  let slope = 0;
  let bend = 0;
  const middle = (blocks - 1) / 2;
  for (let k = 1; k <= upTo; k++) {
    let sr = 0;
    let si = 0;
    let dr = 0;
    let di = 0;
    let er = 0;
    let ei = 0;
    // The turn grows evenly from block to block.
    const apart = 2 * Math.PI * k * blockSeconds;
    const turnRe = Math.cos(apart * offset);
    const turnIm = Math.sin(apart * offset);
    let c = Math.cos(apart * middle * offset);
    let s = -Math.sin(apart * middle * offset);
    for (let b = 0, at = 2 * (k - 1) * blocks; b < blocks; b++, at += 2) {
      const rate = apart * (b - middle);
      const re = (phasors[at] as number) * c + (phasors[at + 1] as number) * s;
      const im = (phasors[at + 1] as number) * c - (phasors[at] as number) * s;
      sr += re;
      si += im;
      dr += rate * im;
      di -= rate * re;
      er -= rate * rate * re;
      ei -= rate * rate * im;
      const next = c * turnRe - s * turnIm;
      s = s * turnRe + c * turnIm;
      c = next;
    }
    slope += 2 * (sr * dr + si * di);
    bend += 2 * (dr * dr + di * di + sr * er + si * ei);
  }
  return bend < 0 ? -slope / bend : 0;
}

function explained(
  phasors: Float64Array,
  blocks: number,
  upTo: number,
  blockSeconds: number,
  offset: number,
) {
  let together = 0;
  let apart = 0;
  const middle = (blocks - 1) / 2;
  for (let k = 1; k <= upTo; k++) {
    let sr = 0;
    let si = 0;
    for (let b = 0; b < blocks; b++) {
      const at = 2 * ((k - 1) * blocks + b);
      const turn = 2 * Math.PI * k * (b - middle) * blockSeconds * offset;
      const c = Math.cos(turn);
      const s = Math.sin(turn);
      const re = phasors[at] as number;
      const im = phasors[at + 1] as number;
      sr += re * c + im * s;
      si += im * c - re * s;
      apart += re * re + im * im;
    }
    together += (sr * sr + si * si) / blocks;
  }
  return apart > 0 ? together / apart : 0;
}
