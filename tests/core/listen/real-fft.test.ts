import { describe, expect, it } from "vitest";
import { CosineTransform } from "../../../core/listen/cosine-transform.ts";
import { RealFft } from "../../../core/listen/real-fft.ts";
import { noise } from "./signals.ts";

/** [calc] The definition, term by term: X[k] = sum of x[n] exp(-2 pi i k n / N). */
function powerByDefinition(x: Float64Array, k: number): number {
  let re = 0;
  let im = 0;
  for (let n = 0; n < x.length; n++) {
    re += (x[n] as number) * Math.cos((2 * Math.PI * k * n) / x.length);
    im -= (x[n] as number) * Math.sin((2 * Math.PI * k * n) / x.length);
  }
  return re * re + im * im;
}

describe("the Fourier transform", () => {
  for (const size of [8, 16, 32, 64, 128, 512]) {
    it(`gives the power spectrum of ${size} samples as the definition does`, () => {
      const x = Float64Array.from(noise(size, 1, 7));
      const power = new Float64Array(size / 2 + 1);
      new RealFft(size).power(x, power);
      for (let k = 0; k <= size / 2; k++) {
        expect(power[k]).toBeCloseTo(powerByDefinition(x, k), 8);
      }
    });
  }

  for (const size of [8, 16, 64, 512]) {
    it(`takes silence for granted after ${size / 2} samples, and tells the highest power`, () => {
      const x = Float64Array.from(noise(size / 2, 1, 9));
      const padded = new Float64Array(size);
      padded.set(x);
      const power = new Float64Array(size / 2 + 1);
      const most = new RealFft(size).power(x, power);
      for (let k = 0; k <= size / 2; k++) expect(power[k]).toBeCloseTo(powerByDefinition(padded, k), 8);
      expect(most).toBe(Math.max(...power));
    });
  }

  it("gives only the lags asked for", () => {
    const power = Float64Array.from(noise(33, 1, 10), (value) => value * value);
    const all = new Float64Array(33);
    const few = new Float64Array(12);
    const cosines = new CosineTransform(32);
    cosines.correlate(power, all);
    cosines.correlate(power, few);
    expect([...few]).toEqual([...all.subarray(0, 12)]);
  });

  it("turns a power spectrum back into the circular autocorrelation", () => {
    const size = 64;
    const x = Float64Array.from(noise(size, 1, 8));
    const fft = new RealFft(size);
    const power = new Float64Array(size / 2 + 1);
    const lags = new Float64Array(size / 2 + 1);
    fft.power(x, power);
    new CosineTransform(size / 2).correlate(power, lags);
    for (let lag = 0; lag <= size / 2; lag++) {
      // [calc] r[lag] = sum of x[n] x[(n + lag) mod N]
      const expected = x.reduce((sum, value, n) => sum + value * (x[(n + lag) % size] as number), 0);
      expect(lags[lag]).toBeCloseTo(expected, 8);
    }
  });

  it("refuses a size that is not a power of two", () => {
    expect(() => new RealFft(48)).toThrow(/power of two/);
  });
});
