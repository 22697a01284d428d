import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { seededRandom } from "../../core/exercise/seeded-random.ts";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { choosePlants } from "../../core/simulate/plants.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";
import { packSamples, unpackSamples } from "../../renderer/store/take-packing.ts";
import { exerciseOf } from "../support/drills.ts";

const packedAndBack = (samples: Float32Array) =>
  unpackSamples(packSamples({ samples, sampleRateHz: 48_000 })).samples;

/** Lengths about the ends of blocks too. */
const length = fc.oneof(fc.nat(3), fc.integer({ min: 500, max: 1030 }));
const wholes = (low: number, high: number) =>
  length.chain((n) => fc.array(fc.integer({ min: low, max: high }), { minLength: n, maxLength: n }));

describe("a packed take", () => {
  test("of 16-bit numbers comes back to the bit, peaks above full scale too", () => {
    fc.assert(
      fc.property(wholes(-40_000, 40_000), (numbers) => {
        const samples = Float32Array.from(numbers, (whole) => whole / 32_768);
        expect(packedAndBack(samples)).toEqual(samples);
      }),
    );
  });

  test("as browsers make it from 16 bits, positive over 32,767, comes back to the bit", () => {
    fc.assert(
      fc.property(wholes(-32_768, 32_767), (numbers) => {
        const samples = Float32Array.from(numbers, (whole) => (whole < 0 ? whole / 32_768 : whole / 32_767));
        expect(packedAndBack(samples)).toEqual(samples);
      }),
    );
  });

  test("of any other numbers moves none by more than half a 16-bit step of its own peak", () => {
    const sample = fc.float({ min: -4, max: 4, noNaN: true });
    const some = length.chain((n) => fc.array(sample, { minLength: n, maxLength: n }));
    fc.assert(
      fc.property(some, (numbers) => {
        const samples = Float32Array.from(numbers);
        const back = packedAndBack(samples);
        expect(back).toHaveLength(samples.length);
        const peak = samples.reduce((most, one) => Math.max(most, Math.abs(one)), 0);
        // [calc] half of peak/32,767, and the rounding of a 32-bit number of that size, peak/2^24.
        const most = peak / 65_534 + peak / 2 ** 24;
        for (const [i, one] of samples.entries())
          expect(Math.abs(one - (back[i] ?? 9))).toBeLessThanOrEqual(most);
      }),
    );
  });

  test("has silence where a sample was no number, and the rest as it was", () => {
    const back = packedAndBack(Float32Array.of(0.5, Number.NaN, Number.POSITIVE_INFINITY, -0.5));
    expect([...back]).toEqual([0.5, 0, 0, -0.5]);
  });

  test("that is cut off is told, not read", () => {
    const packed = packSamples({ samples: new Float32Array(600).fill(0.3), sampleRateHz: 48_000 });
    const cut = { ...packed, packed: packed.packed.slice(0, 20) };
    expect(() => unpackSamples(cut)).toThrow("the take is cut off");
  });

  test.each([
    ["as a 16-bit recording", (sample: number) => Math.round(32_768 * sample) / 32_768],
    ["as the voice made it", (sample: number) => sample],
  ])("%s gives the marks of the one that was played", (_, made) => {
    const exercise = exerciseOf({ octaves: 2 });
    const plants = choosePlants(exercise, seededRandom(4));
    const take = simulateTake(exercise, { seed: 4, plants, sampleRateHz: 44_100 });
    const samples = take.samples.map(made);
    const marksOf = (heard: Float32Array) => scoreTake(exercise, listenToTake(heard, 44_100)).marks;
    const before = marksOf(samples);
    const after = marksOf(packedAndBack(samples));
    expect(before.filter(({ verdict }) => verdict === "hit").length).toBeGreaterThan(10);
    expect(after.map(({ verdict, intonation, timing }) => [verdict, intonation, timing])).toEqual(
      before.map(({ verdict, intonation, timing }) => [verdict, intonation, timing]),
    );
    // What a player could never see: a twentieth of a cent, a tenth of a millisecond.
    for (const [i, mark] of before.entries()) {
      expect(Math.abs((mark.cents ?? 0) - (after[i]?.cents ?? 0))).toBeLessThanOrEqual(0.05);
      expect(Math.abs((mark.ms ?? 0) - (after[i]?.ms ?? 0))).toBeLessThanOrEqual(0.1);
    }
  });
});
