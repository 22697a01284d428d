import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Bits, bitsOf, countBoth, noBits, numbersIn } from "../../../core/path/bits.ts";
import { runToEnd } from "../../../core/path/long-work.ts";
import { smallestCover } from "../../../core/path/smallest-cover.ts";
import { allOf, greedyOrder, widestCover } from "../../../core/path/widest-cover.ts";

const ELEMENTS = 40;
const sets = (...some: readonly number[][]): Bits[] => some.map((one) => bitsOf(one, ELEMENTS));
const heldBy = (some: readonly Bits[], chosen: readonly number[]) =>
  numbersIn(
    allOf(
      chosen.flatMap((place) => some[place] ?? []),
      noBits(ELEMENTS),
    ),
  ).length;

/** Up to ten sets over few or many elements, some empty, some equal. */
const anySets = fc
  .array(fc.subarray([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 31, 32, 39]), { maxLength: 10 })
  .map((some) => sets(...some));

/** Up to sixteen elements, each in two or three of nine sets: few of them are needless, so it takes a search. */
const tangledSets = fc
  .array(fc.subarray([0, 1, 2, 3, 4, 5, 6, 7, 8], { minLength: 2, maxLength: 3 }), {
    minLength: 6,
    maxLength: 16,
  })
  .map((holders) =>
    Array.from({ length: 9 }, (_, set) =>
      bitsOf(
        holders.flatMap((some, element) => (some.includes(set) ? [element] : [])),
        ELEMENTS,
      ),
    ),
  );

/** Every choice of places, smallest first. */
const everyChoice = (count: number): readonly (readonly number[])[] =>
  Array.from({ length: 2 ** count }, (_, mask) =>
    Array.from({ length: count }, (_, place) => place).filter((place) => (mask >> place) & 1),
  ).sort((one, other) => one.length - other.length);

describe("the smallest cover", () => {
  test("is as small as trying all choices finds, and covers everything", () => {
    let largest = 0;
    fc.assert(
      fc.property(fc.oneof(anySets, tangledSets), (some) => {
        const all = [...some.keys()];
        const everything = heldBy(some, all);
        const least = everyChoice(some.length).find((chosen) => heldBy(some, chosen) === everything);
        const cover = runToEnd(smallestCover(some));
        expect(cover.chosen.length).toBe(least?.length);
        expect(heldBy(some, cover.chosen)).toBe(everything);
        expect(cover).toMatchObject({ proved: true, atLeast: cover.chosen.length });
        largest = Math.max(largest, cover.chosen.length);
      }),
      { numRuns: 500 },
    );
    expect(largest).toBeGreaterThanOrEqual(4);
  });

  test("is smaller than taking the largest first, where that misleads", () => {
    // [calc] the classic: the largest set of six leaves two more to take, the two halves do alone.
    const some = sets([0, 1, 2, 5, 6, 7], [0, 1, 2, 3, 4], [5, 6, 7, 8, 9]);
    expect(greedyOrder(some, allOf(some, noBits(ELEMENTS))).map((step) => step.set)).toEqual([0, 1, 2]);
    expect(runToEnd(smallestCover(some)).chosen).toEqual([1, 2]);
  });

  test("of nothing is nothing; of equal sets the first is taken", () => {
    expect(runToEnd(smallestCover([])).chosen).toEqual([]);
    expect(runToEnd(smallestCover(sets([], []))).chosen).toEqual([]);
    expect(runToEnd(smallestCover(sets([1], [1, 2], [1, 2]))).chosen).toEqual([1]);
  });

  test("given up, it still covers everything and says that fewer might do", () => {
    // Ten elements, each in another two of five sets, as the edges of a complete graph: no rule makes any needless.
    const pairs = [0, 1, 2, 3, 4].flatMap((one) =>
      [0, 1, 2, 3, 4].flatMap((other) => (one < other ? [[one, other]] : [])),
    );
    const some = [0, 1, 2, 3, 4].map((set) =>
      bitsOf(
        pairs.flatMap((pair, element) => (pair.includes(set) ? [element] : [])),
        ELEMENTS,
      ),
    );
    const given = runToEnd(smallestCover(some, 0));
    expect(heldBy(some, given.chosen)).toBe(pairs.length);
    expect(given.proved).toBe(false);
    expect(given.atLeast).toBeLessThanOrEqual(given.chosen.length);
    // [calc] a vertex cover of the complete graph of five takes four.
    expect(runToEnd(smallestCover(some))).toMatchObject({ proved: true, atLeast: 4 });
  });
});

describe("the widest cover", () => {
  test("holds as much as trying all choices of that size finds", () => {
    fc.assert(
      fc.property(fc.oneof(anySets, tangledSets), fc.integer({ min: 0, max: 4 }), (some, most) => {
        const everything = allOf(some, noBits(ELEMENTS));
        const best = Math.max(
          ...everyChoice(some.length)
            .filter((chosen) => chosen.length <= most)
            .map((chosen) => heldBy(some, chosen)),
        );
        const found = runToEnd(widestCover(some, everything, most));
        expect(found.covered).toBe(best);
        expect(heldBy(some, found.chosen)).toBe(best);
        expect(found.chosen.length).toBeLessThanOrEqual(most);
        expect(found.proved).toBe(true);
      }),
      { numRuns: 500 },
    );
  });

  test("taking one after another never holds more", () => {
    fc.assert(
      fc.property(anySets, (some) => {
        const everything = allOf(some, noBits(ELEMENTS));
        const order = greedyOrder(some, everything);
        const all = order.reduce((sum, step) => sum + step.adds, 0);
        expect(all).toBe(countBoth(everything, everything));
        const two = runToEnd(widestCover(some, everything, 2)).covered;
        expect(order.slice(0, 2).reduce((sum, step) => sum + step.adds, 0)).toBeLessThanOrEqual(two);
      }),
    );
  });
});
