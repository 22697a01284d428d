import { LIMITS } from "../reading/limits.ts";
import type { Dbfs } from "../units.ts";

/** What a recording can be marked by ends here. */
export const MOST_TAKE_MINUTES = LIMITS.soundMinutes.most;

/** Quieter than this nothing was recorded: the noise of a 16-bit converter peaks near -90 dBFS. */
export const SILENCE_PEAK_DBFS = -80;

/** Why a take is too long to be marked, as the end of a sentence; null where it is not. */
export function whyTooLong(samples: number, sampleRateHz: number): string | null {
  return samples > MOST_TAKE_MINUTES * 60 * sampleRateHz
    ? `it lasts longer than the ${MOST_TAKE_MINUTES} minutes that can be marked`
    : null;
}

/** True where the loudest sample says that nothing was recorded. */
export const isSilence = (peakDbfs: Dbfs): boolean => !(peakDbfs > SILENCE_PEAK_DBFS);
