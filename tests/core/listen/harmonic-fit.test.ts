import { describe, expect, it } from "vitest";
import { fitHarmonics } from "../../../core/listen/harmonic-fit.ts";
import { noise, take, type Waveform, waveforms } from "./signals.ts";

const RATE = 48_000;

function tone(hz: number, seconds: number, waveform?: Waveform): Float64Array {
  const whole = take(RATE, seconds + 0.2, [
    { onSeconds: 0, offSeconds: seconds + 0.1, hz, dbfs: -20, ...(waveform ? { waveform } : {}) },
  ]);
  const from = Math.round(0.05 * RATE);
  return Float64Array.from(whole.subarray(from, from + Math.round(seconds * RATE)));
}

const centsOff = (a: number, b: number) => 1200 * Math.log2(a / b);

describe("the harmonic fit", () => {
  it("finds a clean tone to a hundredth of a cent, from a guess a third of a cent off", () => {
    for (const waveform of Object.values(waveforms)) {
      for (const hz of [130.81, 261.3, 441.7, 987.8, 2093, 3135]) {
        const fit = fitHarmonics(tone(hz, 0.1, waveform), RATE, hz * 2 ** (1 / 3600));
        expect(Math.abs(centsOff(fit?.hz ?? 1, hz))).toBeLessThan(0.01);
        expect(fit?.steadiness).toBeGreaterThan(0.99);
      }
    }
  });

  it("comes within twice the Cramer-Rao bound in white noise", () => {
    // [F] Kay 1993, section 3.11, for harmonics (Christensen and Jakobsson 2009):
    // var(w0) >= 24 s2 / (N (N^2 - 1) sum k^2 A_k^2), A_k the amplitudes, s2 the noise power.
    const hz = 523.25;
    const clean = tone(hz, 0.1);
    const sigma = 0.1 * 10 ** (-10 / 20);
    const strengths = Array.from({ length: 30 }, (_, i) => (i + 1) ** -0.7);
    const gain = 0.1 / Math.sqrt(strengths.reduce((sum, a) => sum + a * a, 0) / 2);
    const information = strengths.reduce((sum, a, i) => sum + (i + 1) ** 2 * (a * gain) ** 2, 0);
    const n = clean.length;
    const boundRad = Math.sqrt((24 * sigma ** 2) / (n * (n * n - 1) * information));
    const boundCents = (1200 / Math.LN2) * (boundRad / ((2 * Math.PI * hz) / RATE));
    let square = 0;
    const trials = 60;
    for (let trial = 0; trial < trials; trial++) {
      const hiss = noise(n, sigma, 100 + trial);
      const fit = fitHarmonics(
        clean.map((value, i) => value + (hiss[i] as number)),
        RATE,
        hz * 1.0003,
      );
      square += centsOff(fit?.hz ?? 1, hz) ** 2;
    }
    expect(Math.sqrt(square / trials)).toBeLessThan(2 * boundCents);
    // With 60 trials the estimate is good to 10 %: far below the bound would mean that the test cheats.
    expect(Math.sqrt(square / trials)).toBeGreaterThan(0.6 * boundCents);
  });

  it("says when no one pitch fits: a glide of a semitone", () => {
    const samples = new Float64Array(0.2 * RATE);
    let turn = 0;
    for (let i = 0; i < samples.length; i++) {
      turn += (2 * Math.PI * 440 * 2 ** (i / samples.length / 12)) / RATE;
      for (let k = 1; k <= 10; k++) samples[i] = (samples[i] as number) + Math.sin(k * turn) / k;
    }
    expect(fitHarmonics(samples, RATE, 453)?.steadiness ?? 0).toBeLessThan(0.6);
  });

  it("gives nothing for less than three blocks", () => {
    expect(fitHarmonics(tone(440, 0.02), RATE, 440)).toBeNull();
  });
});
