/** A stretch of sound with quiet before and after it. */
export interface Burst {
  /** Place of its first sample in the whole sound. */
  readonly start: number;
  readonly samples: Float32Array;
}

/** Softer than this, against the loudest sample, is quiet: -60 dB. */
const QUIET_SHARE = 0.001;
const LEAST_QUIET_SECONDS = 0.05;
/** A sound without a pause is compared piece by piece. */
const LONGEST_SECONDS = 0.5;
/** Shorter is a click too weak to be found under noise, or the rest of a piece. */
const SHORTEST_SECONDS = 0.001;

/**
 * Cuts a sound into what sounds in it: at every quiet of 50 ms or more, and where half a second has passed without one.
 *
 * @returns in order of time; none for silence
 */
export function burstsOf(samples: Float32Array, sampleRateHz: number): readonly Burst[] {
  const quiet = QUIET_SHARE * samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  const leastQuiet = LEAST_QUIET_SECONDS * sampleRateHz;
  const longest = Math.round(LONGEST_SECONDS * sampleRateHz);
  const stretches: { start: number; end: number }[] = [];
  for (let n = 0; n < samples.length; n++) {
    if (Math.abs(samples[n] ?? 0) <= quiet) continue;
    const last = stretches.at(-1);
    if (last === undefined || n - last.end >= leastQuiet || n - last.start >= longest)
      stretches.push({ start: n, end: n + 1 });
    else last.end = n + 1;
  }
  return stretches
    .filter(({ start, end }) => end - start >= SHORTEST_SECONDS * sampleRateHz)
    .map(({ start, end }) => ({ start, samples: samples.subarray(start, end) }));
}
