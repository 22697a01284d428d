import { expect, it } from "vitest";
import { midiHz, SAMPLE_RATE_HZ } from "./corpus/truth.ts";
import { boundRatio, leastCents, unitTone } from "./measures/cramer-rao.ts";

/**
 * The bound without approximation: standard deviation of the pitch from the inverse of the whole Fisher matrix over the
 * pitch and the cosine and sine amplitudes of every partial (Kay 1993, equation 3.31).
 */
function exactCents(midi: number, seconds: number, snrDb: number): number {
  const amplitudes = unitTone(midi);
  const w = (2 * Math.PI * midiHz(midi)) / SAMPLE_RATE_HZ;
  const size = 2 * amplitudes.length + 1;
  const fisher = Array.from({ length: size }, () => new Float64Array(size));
  const slope = new Float64Array(size);
  for (let n = 0; n < Math.round(seconds * SAMPLE_RATE_HZ); n++) {
    slope[0] = 0;
    amplitudes.forEach((a, i) => {
      const turn = (i + 1) * w * n;
      slope[0] = (slope[0] as number) - a * (i + 1) * n * Math.sin(turn + 1.7 * i * i);
      slope[2 * i + 1] = Math.cos(turn);
      slope[2 * i + 2] = Math.sin(turn);
    });
    fisher.forEach((row, i) => {
      for (let j = 0; j < size; j++)
        row[j] = (row[j] as number) + (slope[i] as number) * (slope[j] as number);
    });
  }
  const variance = 10 ** (-snrDb / 10) * firstOfInverse(fisher);
  return (1200 / Math.log(2)) * (Math.sqrt(variance) / w);
}

/** Element (0, 0) of the inverse of a symmetric positive matrix: one over what elimination leaves of it. */
function firstOfInverse(matrix: readonly Float64Array[]): number {
  for (let pivot = matrix.length - 1; pivot > 0; pivot--) {
    const row = matrix[pivot] as Float64Array;
    for (let i = 0; i < pivot; i++) {
      const other = matrix[i] as Float64Array;
      const share = (other[pivot] as number) / (row[pivot] as number);
      for (let j = 0; j <= pivot; j++) other[j] = (other[j] as number) - share * (row[j] as number);
    }
  }
  return 1 / ((matrix[0] as Float64Array)[0] as number);
}

it("the bound agrees with the exact Fisher matrix over the whole range", () => {
  for (const midi of [48, 72, 98]) {
    // The sums over sines and cosines it leaves out are of the order of one period in sixteen: under 1 %.
    expect(exactCents(midi, 0.125, 20) / leastCents(midi, 0.125, 20)).toBeCloseTo(1, 2);
  }
});

it("ten times the noise power is the root of ten in cents, and twice the length 2^1.5 less", () => {
  expect(leastCents(60, 0.25, 10) / leastCents(60, 0.25, 20)).toBeCloseTo(Math.sqrt(10), 9);
  // N (N^2 - 1) is N^3 but for one part in N^2
  expect(leastCents(60, 0.25, 20) / leastCents(60, 0.5, 20)).toBeCloseTo(2 ** 1.5, 6);
});

it("errors twice as large as the bound are twice the bound, and gross ones are left out", () => {
  const errors = [60, 72, 84].map((midi, n) => ({
    midi,
    cents: (n === 1 ? -2 : 2) * leastCents(midi, 0.25, 20),
  }));
  expect(boundRatio([...errors, { midi: 60, cents: 1200 }], 0.25, 20)).toBeCloseTo(2, 12);
});
