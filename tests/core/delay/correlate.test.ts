import fc from "fast-check";
import { expect, test } from "vitest";
import { correlate } from "../../../core/delay/correlate.ts";

const samples = (least: number) =>
  fc.array(fc.integer({ min: -100, max: 100 }), { minLength: least, maxLength: 40 });

test("the correlation through the spectrum is the sum of products it is defined as", () => {
  fc.assert(
    fc.property(samples(1), samples(0), fc.integer({ min: 1, max: 40 }), (sound, recording, lags) => {
      const found = correlate(Float32Array.from(sound), Float32Array.from(recording), lags);
      expect(found).toHaveLength(lags);
      for (let lag = 0; lag < lags; lag++) {
        const sum = sound.reduce((sum, value, n) => sum + value * (recording[lag + n] ?? 0), 0); // [calc]
        expect(found[lag]).toBeCloseTo(sum, 6);
      }
    }),
  );
});
