import type { Random } from "../../../../core/exercise/seeded-random.ts";
import { convolved } from "./convolve.ts";
import type { Recipe } from "./recipes.ts";
import { SAMPLE_RATE_HZ } from "./truth.ts";

/** The first 2 ms after the direct sound are empty. */
const FIRST_ECHO_SAMPLES = 96;
/** Direct over reverberant sound. */
const DIRECT_DB = 3;

/** Noise dying away exponentially, 60 dB in the reverberation time (Moorer 1979), behind the direct sound. */
export function throughRoom(dry: Float64Array, rt60Seconds: number, gauss: Random): Float64Array {
  const response = new Float64Array(Math.round(rt60Seconds * SAMPLE_RATE_HZ));
  let energy = 0;
  for (let i = FIRST_ECHO_SAMPLES; i < response.length; i++) {
    const value = gauss() * 10 ** ((-3 * i) / response.length);
    response[i] = value;
    energy += value * value;
  }
  const gain = 10 ** (-DIRECT_DB / 20) / Math.sqrt(energy);
  for (let i = 0; i < response.length; i++) response[i] = (response[i] as number) * gain;
  response[0] = 1;
  return convolved(dry, response).subarray(0, dry.length);
}

/** A laptop's microphone: two Butterworth pole pairs of low-pass, and the hum of the mains, 50 and 150 Hz. */
export function throughLaptop(sound: Float64Array, recipe: Recipe, toneRms: number): Float64Array {
  const { lowPassHz, humDb } = recipe;
  let heard = sound;
  if (lowPassHz !== null) heard = lowPassed(lowPassed(heard, lowPassHz), lowPassHz);
  if (humDb === null) return heard;
  const gain = toneRms * 10 ** (humDb / 20) * Math.SQRT2;
  return heard.map((value, i) => {
    const fundamental = Math.sin((2 * Math.PI * 50 * i) / SAMPLE_RATE_HZ);
    return value + gain * (fundamental + 0.3 * Math.sin((2 * Math.PI * 150 * i) / SAMPLE_RATE_HZ));
  });
}

/** Second-order low-pass of Butterworth's shape (R. Bristow-Johnson, "Cookbook formulae for audio EQ", 2005). */
function lowPassed(sound: Float64Array, hz: number): Float64Array {
  const w = (2 * Math.PI * hz) / SAMPLE_RATE_HZ;
  const alpha = Math.sin(w) / 2 / Math.SQRT1_2;
  const cos = Math.cos(w);
  const a0 = 1 + alpha;
  const b0 = (1 - cos) / 2 / a0;
  const b1 = (1 - cos) / a0;
  const a1 = (-2 * cos) / a0;
  const a2 = (1 - alpha) / a0;
  let x1 = 0;
  let x2 = 0;
  let y1 = 0;
  let y2 = 0;
  return sound.map((x) => {
    const y = b0 * x + b1 * x1 + b0 * x2 - a1 * y1 - a2 * y2;
    x2 = x1;
    x1 = x;
    y2 = y1;
    y1 = y;
    return y;
  });
}

/** Adds the noise of the room and the converter, white or pink. */
export function noiseUnder(sound: Float64Array, recipe: Recipe, toneRms: number, gauss: Random): void {
  const rms = toneRms * 10 ** (-recipe.snrDb / 20);
  if (recipe.noise === "white") {
    for (let i = 0; i < sound.length; i++) sound[i] = (sound[i] as number) + rms * gauss();
    return;
  }
  const noise = pinkNoise(sound.length, gauss);
  let energy = 0;
  for (const value of noise) energy += value ** 2;
  const gain = rms / Math.sqrt(energy / noise.length);
  for (let i = 0; i < sound.length; i++) sound[i] = (sound[i] as number) + gain * (noise[i] as number);
}

/** White noise through P. Kellet's six poles (musicdsp.org, "Pink noise filter", 1999): -3 dB an octave within 0.05 dB. */
function pinkNoise(length: number, gauss: Random): Float64Array {
  const poles = [0.99886, 0.99332, 0.969, 0.8665, 0.55, -0.7616];
  const gains = [0.0555179, 0.0750759, 0.153852, 0.3104856, 0.5329522, -0.016898];
  const states = [0, 0, 0, 0, 0, 0];
  let before = 0;
  return Float64Array.from({ length }, () => {
    const white = gauss();
    let sum = 0;
    for (let p = 0; p < 6; p++) {
      const state = (poles[p] as number) * (states[p] as number) + white * (gains[p] as number);
      states[p] = state;
      sum += state;
    }
    const value = sum + before + white * 0.5362;
    before = white * 0.115926;
    return value;
  });
}
