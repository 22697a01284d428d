import { gaussian, seededRandom } from "../../../core/exercise/seeded-random.ts";
import { throughRoom } from "../listen/corpus/room.ts";

/** What the microphone gets of the same playing. */
export const VERSIONS = ["clean", "20 dB", "reverberation", "leak"] as const;
export type Version = (typeof VERSIONS)[number];

const NOISE_DB = -20;
const RT60_SECONDS = 0.4;

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
      return Float32Array.from(throughRoom(Float64Array.from(dry), RT60_SECONDS, gauss));
    case "leak":
      return dry.map((value, i) => value + (leaks[i] ?? 0));
  }
}
