import { maximumLengthSequence } from "./maximum-length-sequence.ts";

/** About so long is a burst, and long enough to be found under noise three times as strong: 8191 steps, 0.34 s. */
const LONGEST_BURST_SECONDS = 0.4;
/** Steps a second: keeps the sound where small loudspeakers and microphones are at their best. */
const STEPS_PER_SECOND = 24_000;
/** So that it begins and ends without a crack. */
const FADE_SECONDS = 0.005;
const QUIET_BEFORE_SECONDS = 0.1;
/**
 * From burst to burst. No two are alike: a delay longer than what is looked for would else be taken for the short one
 * that leads to the burst before.
 */
const FROM_BURST_TO_BURST_SECONDS = [0.8, 0.86, 0.93, 0.83, 0.9] as const;
/** What comes back late belongs to it as well. */
const QUIET_AFTER_SECONDS = 0.7;

/**
 * The sound that is played to find the delay: six bursts of a maximum-length sequence with quiet between them.
 *
 * @param sampleRateHz 8,000..192,000
 * @returns one channel, its largest sample 1; about 5.5 s
 */
export function makeProbe(sampleRateHz: number): Float32Array {
  const burst = makeBurst(sampleRateHz);
  const starts = [QUIET_BEFORE_SECONDS];
  for (const apart of FROM_BURST_TO_BURST_SECONDS) starts.push((starts.at(-1) ?? 0) + apart);
  const length = Math.round(((starts.at(-1) ?? 0) + QUIET_AFTER_SECONDS) * sampleRateHz) + burst.length;
  const samples = new Float32Array(length);
  for (const start of starts) samples.set(burst, Math.round(start * sampleRateHz));
  return samples;
}

function makeBurst(sampleRateHz: number): Float32Array {
  const samplesPerStep = Math.max(1, Math.round(sampleRateHz / STEPS_PER_SECOND));
  const mostSteps = (LONGEST_BURST_SECONDS * sampleRateHz) / samplesPerStep;
  const sequence = maximumLengthSequence(Math.floor(Math.log2(mostSteps + 1)));
  const fade = Math.round(FADE_SECONDS * sampleRateHz);
  const length = sequence.length * samplesPerStep;
  return Float32Array.from({ length }, (_, n) => {
    const fromEdge = Math.min(n, length - 1 - n) + 1;
    const loudness = fromEdge >= fade ? 1 : 0.5 - 0.5 * Math.cos((Math.PI * fromEdge) / fade);
    return loudness * (sequence[Math.floor(n / samplesPerStep)] ?? 0);
  });
}
