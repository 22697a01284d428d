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

/** For harmonic k and block b, the sum of the samples times exp(-2 pi i k f n): real and imaginary part in turn. */
function demodulate(samples: Float64Array, f: number, length: number, blocks: number, harmonics: number) {
  const phasors = new Float64Array(2 * harmonics * blocks);
  const cos = new Float64Array(length);
  const sin = new Float64Array(length);
  for (let k = 1; k <= harmonics; k++) {
    fillTurns(cos, sin, 2 * Math.PI * k * f);
    for (let b = 0; b < blocks; b++) {
      const start = b * length;
      let re = 0;
      let im = 0;
      for (let n = 0; n < length; n++) {
        const value = samples[start + n] as number;
        re += value * (cos[n] as number);
        im -= value * (sin[n] as number);
      }
      const turn = -2 * Math.PI * ((k * f * start) % 1);
      const at = 2 * ((k - 1) * blocks + b);
      phasors[at] = re * Math.cos(turn) - im * Math.sin(turn);
      phasors[at + 1] = re * Math.sin(turn) + im * Math.cos(turn);
    }
  }
  return phasors;
}

/** cos and sin of n times an angle, by repeated rotation; over a block the rounding stays below 1e-12. */
function fillTurns(cos: Float64Array, sin: Float64Array, angle: number): void {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  let re = 1;
  let im = 0;
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
    for (let b = 0; b < blocks; b++) {
      const at = 2 * ((k - 1) * blocks + b);
      const rate = 2 * Math.PI * k * (b - middle) * blockSeconds;
      const c = Math.cos(rate * offset);
      const s = Math.sin(rate * offset);
      const re = (phasors[at] as number) * c + (phasors[at + 1] as number) * s;
      const im = (phasors[at + 1] as number) * c - (phasors[at] as number) * s;
      sr += re;
      si += im;
      dr += rate * im;
      di -= rate * re;
      er -= rate * rate * re;
      ei -= rate * rate * im;
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
      const re = phasors[at] as number;
      const im = phasors[at + 1] as number;
      sr += re * Math.cos(turn) + im * Math.sin(turn);
      si += im * Math.cos(turn) - re * Math.sin(turn);
      apart += re * re + im * im;
    }
    together += (sr * sr + si * si) / blocks;
  }
  return apart > 0 ? together / apart : 0;
}
