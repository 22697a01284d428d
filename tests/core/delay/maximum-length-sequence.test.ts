import { describe, expect, test } from "vitest";
import { maximumLengthSequence } from "../../../core/delay/maximum-length-sequence.ts";

const DEGREES = Array.from({ length: 15 }, (_, n) => n + 2);

describe("maximum-length sequences", () => {
  test("that of degree 4 is the published one", () => {
    // [X] SciPy 1.x, the example in the docstring of scipy.signal.max_len_seq(4), 0 written as -1.
    const published = [1, 1, 1, 1, 0, 1, 0, 1, 1, 0, 0, 1, 0, 0, 0];
    expect([...maximumLengthSequence(4)]).toEqual(published.map((bit) => 2 * bit - 1));
  });

  test.each(DEGREES)(
    "of degree %d holds every row of so many bits but zeros once, so its period is its length",
    (degree) => {
      const sequence = maximumLengthSequence(degree);
      const length = 2 ** degree - 1; // [F] Golomb 1967: the period of a primitive polynomial
      expect(sequence).toHaveLength(length);
      const seen = new Set<number>();
      for (let from = 0; from < length; from++) {
        let row = 0;
        for (let n = 0; n < degree; n++) row = 2 * row + (sequence[(from + n) % length] === 1 ? 1 : 0);
        seen.add(row);
      }
      expect(seen.size).toBe(length);
      expect(seen.has(0)).toBe(false);
    },
  );

  test.each(DEGREES.filter((degree) => degree <= 11))(
    "of degree %d is like itself nowhere else: circular autocorrelation N at 0 and -1 elsewhere",
    (degree) => {
      // [F] Golomb 1967, the two-level autocorrelation of m-sequences.
      const sequence = maximumLengthSequence(degree);
      const { length } = sequence;
      for (let lag = 0; lag < length; lag++) {
        let sum = 0;
        for (let n = 0; n < length; n++) sum += (sequence[n] ?? 0) * (sequence[(n + lag) % length] ?? 0);
        expect(sum).toBe(lag === 0 ? length : -1);
      }
    },
  );

  test.each([1, 17, 2.5, Number.NaN])("degree %d is refused", (degree) => {
    expect(() => maximumLengthSequence(degree)).toThrow(RangeError);
  });
});
