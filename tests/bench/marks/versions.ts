import { gaussian, seededRandom } from "../../../core/exercise/seeded-random.ts";
import { convolved } from "../listen/corpus/convolve.ts";

/** What the microphone gets of the same playing. */
export const VERSIONS = ["clean", "20 dB", "reverberation", "leak"] as const;
export type Version = (typeof VERSIONS)[number];

const RATE_HZ = 48_000;
const NOISE_DB = -20;
const RT60_SECONDS = 0.4;
const DIRECT_DB = 3;
/** The first 2 ms after the direct sound are empty. */
const FIRST_ECHO_SAMPLES = 96;

/**
 * @param dry  the line with its second reeds; `leaks` the faint neighbours alone
 * @param toneRms level of an ordinary note: noise is measured against it, in the full band
 */
export function heardAs(
  version: Version,
  dry: Float32Array,
  leaks: Float32Array,
  toneRms: number,
  seed: number,
): Float32Array {
  const gauss = gaussian(seededRandom(seed));
  switch (version) {
    case "clean":
      return dry;
    case "20 dB": {
      const rms = toneRms * 10 ** (NOISE_DB / 20);
      return dry.map((value) => value + rms * gauss());
    }
    case "reverberation":
      return Float32Array.from(convolved(Float64Array.from(dry), room(gauss)).subarray(0, dry.length));
    case "leak":
      return dry.map((value, i) => value + (leaks[i] ?? 0));
  }
}

/** Direct sound, then noise dying away exponentially, 60 dB in the reverberation time (Moorer 1979). */
function room(gauss: () => number): Float64Array {
  const response = new Float64Array(Math.round(RT60_SECONDS * RATE_HZ));
  let energy = 0;
  for (let i = FIRST_ECHO_SAMPLES; i < response.length; i++) {
    const value = gauss() * 10 ** ((-3 * i) / response.length);
    response[i] = value;
    energy += value * value;
  }
  const gain = 10 ** (-DIRECT_DB / 20) / Math.sqrt(energy);
  for (let i = 0; i < response.length; i++) response[i] = (response[i] ?? 0) * gain;
  response[0] = 1;
  return response;
}
