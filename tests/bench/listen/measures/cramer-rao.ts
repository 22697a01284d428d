import { partials } from "../corpus/synthetic-take.ts";
import { midiHz, SAMPLE_RATE_HZ } from "../corpus/truth.ts";
import type { NoteError } from "./frame-measures.ts";

const CENTS_A_NEPER = 1200 / Math.log(2);

/** Amplitudes of the partials of the bench's tone, power 1 together. */
export function unitTone(midi: number): number[] {
  const strengths = partials(midiHz(midi));
  const power = strengths.reduce((sum, strength) => sum + (strength * strength) / 2, 0);
  return strengths.map((strength) => strength / Math.sqrt(power));
}

/**
 * The least standard deviation, in cents, with which any unbiased reader can tell the pitch of the bench's tone from white
 * noise, amplitudes and phases of all partials being unknown:
 * var(w) >= 24 s^2 / (N (N^2 - 1) sum over l of l^2 A_l^2), w in radians a sample.
 *
 * @param seconds length of the steady tone
 * @param snrDb   tone over noise in the full band of 24 kHz
 *
 * Source: the Cramer-Rao bound of one sinusoid (Kay, Fundamentals of Statistical Signal Processing: Estimation Theory, 1993,
 * section 3.11) carried over to harmonics as in Christensen and Jakobsson, Multi-Pitch Estimation (2009), section 1.5.
 */
export function leastCents(midi: number, seconds: number, snrDb: number): number {
  const samples = Math.round(seconds * SAMPLE_RATE_HZ);
  const noise = 10 ** (-snrDb / 10);
  const weight = unitTone(midi).reduce((sum, a, i) => sum + (i + 1) ** 2 * a * a, 0);
  const variance = (24 * noise) / (samples * (samples * samples - 1) * weight);
  return (CENTS_A_NEPER * Math.sqrt(variance)) / ((2 * Math.PI * midiHz(midi)) / SAMPLE_RATE_HZ);
}

/** Root mean square of the errors over that of their bounds; errors beyond 50 cents are gross and left out. */
export function boundRatio(errors: readonly NoteError[], seconds: number, snrDb: number): number {
  let squares = 0;
  let bounds = 0;
  for (const { midi, cents } of errors) {
    if (Math.abs(cents) > 50) continue;
    squares += cents ** 2;
    bounds += leastCents(midi, seconds, snrDb) ** 2;
  }
  return Math.sqrt(squares / bounds);
}
