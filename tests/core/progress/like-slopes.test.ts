import { describe, expect, test } from "vitest";
import { gaussian, seededRandom } from "../../../core/exercise/seeded-random.ts";
import { confidenceOfEach } from "../../../core/progress/statistics/held-together.ts";
import { VarianceOfS } from "../../../core/progress/statistics/kendall-variance.ts";
import { compareAll, type RowValue } from "../../../core/progress/statistics/like-pairs.ts";
import { theilSen } from "../../../core/progress/statistics/theil-sen.ts";

const row = (name: string, ys: readonly number[], from = 0, weight = 1): readonly RowValue[] =>
  ys.map((y, place) => ({ row: name, x: from + place, y, weight }));

const varianceFor = (values: readonly RowValue[]) => new VarianceOfS(compareAll(values)).of();

describe("Kendall's variance of S", () => {
  test("of one row without ties is n (n - 1) (2n + 5) / 18", () => {
    // [calc] n = 8: 8·7·21/18 = 65.333; n = 20: 20·19·45/18 = 950
    expect(varianceFor(row("a", [3, 1, 4, 1.5, 9, 2.6, 5, 3.5]))).toBeCloseTo(65.3333, 4);
    expect(
      varianceFor(
        row(
          "a",
          Array.from({ length: 20 }, (_, n) => (7 * n) % 20),
        ),
      ),
    ).toBeCloseTo(950, 9);
  });

  test("of rows that share no place is the sum of theirs, as in the seasonal test", () => {
    // [calc] 4·3·13/18 = 8.6667 and 5·4·15/18 = 16.6667
    const apart = [...row("a", [2, 1, 4, 3]), ...row("b", [5, 2, 1, 4, 3], 4)];
    expect(varianceFor(apart)).toBeCloseTo(26 / 3 + 50 / 3, 9);
  });

  test("of places each compared with the next alone is (n + 1) / 3", () => {
    // [calc] four comparisons and three shared places, each -2/3: 4 - 3·2/3 = 2 = (5 + 1)/3. Rows of two places each, values
    // that agree with an order of five: 2 5 1 4 3. No value lies between its neighbours: none of the shared places says less.
    const chain = [
      ...row("a", [2, 5]),
      ...row("b", [5, 1], 1),
      ...row("c", [1, 4], 2),
      ...row("d", [4, 3], 3),
    ];
    expect(varianceFor(chain)).toBeCloseTo(2, 9);
  });

  test("of values that are all the same is none, and the slope is surely nothing", () => {
    const same = row("a", Array(9).fill(5));
    expect(varianceFor(same)).toBe(0);
    expect(theilSen(same)).toMatchObject({ slope: 0, low: 0, high: 0 });
  });
});

/** An exercise of the first half, one of the second, and one played now and then in both; what a day has in common, and its own. */
function exercisesInTurn(common: number, normal: () => number): readonly RowValue[] {
  return Array.from({ length: 20 }, (_, x) => {
    const day = common * normal();
    const rows = [
      ...(x < 12 ? ["first"] : []),
      ...(x >= 8 ? ["second"] : []),
      ...(x % 2 === 0 ? ["both"] : []),
    ];
    return rows.map((name) => ({ row: name, x, y: day + normal(), weight: 1 }));
  }).flat();
}

describe("Kendall's variance over rows that are not always there", () => {
  test.each([0, 0.5, 3])(
    "is what chance makes of S where the day's own part has %d deviations of a row's",
    (common) => {
      const normal = gaussian(seededRandom(11));
      let [squares, variances] = [0, 0];
      const runs = 1500;
      for (let run = 0; run < runs; run++) {
        const compared = compareAll(exercisesInTurn(common, normal));
        squares += compared.pairs.reduce((sum, { sign }) => sum + sign, 0) ** 2;
        variances += new VarianceOfS(compared).of();
      }
      // [calc] the mean of 1500 squares of a normal deviate lies within 4 sqrt(2 / 1500) = 0.146 of its variance; what is
      // estimated from a single history may be 6 per cent off in the mean.
      expect(Math.abs(squares / variances - 1)).toBeLessThan(0.146 + 0.06);
    },
  );
});

describe("the slope over several rows", () => {
  test("is the middle of the slopes within rows: a step from one row to the next has no part in it", () => {
    // [calc] both rows fall by 1 a place, the second lies 100 higher.
    const values = [...row("a", [9, 8, 7, 6, 5]), ...row("b", [104, 103, 102, 101, 100], 5)];
    const found = theilSen(values);
    expect(found?.slope).toBe(-1);
    expect(found?.atZero.get("a")).toBe(9);
    expect(found?.atZero.get("b")).toBe(109);
    expect(found?.places).toHaveLength(10);
  });

  test("weighs rows by how surely they tell the difference", () => {
    // [calc] weights 1 and 3 at both places: harmonic halves 1/2 and 3/2, so (1·4 + 3·8) / 4 = 7 for one place.
    const values = [
      { row: "a", x: 0, y: 0, weight: 1 },
      { row: "a", x: 1, y: 4, weight: 1 },
      { row: "b", x: 0, y: 0, weight: 3 },
      { row: "b", x: 1, y: 8, weight: 3 },
    ];
    expect(compareAll(values).pairs.map(({ slope }) => slope)).toEqual([7]);
  });

  test("leaves out rows with one place", () => {
    const values = [...row("a", [1, 2, 3]), { row: "alone", x: 9, y: 500, weight: 9 }];
    expect(theilSen(values)?.places).toEqual([0, 1, 2]);
  });
});

describe("what several intervals must hold together", () => {
  const normal = gaussian(seededRandom(5));
  const noise = () => compareAll(row("a", Array.from({ length: 20 }, normal)));

  test("one alone need hold no more, nor need several that go up and down as one", () => {
    const one = noise();
    // 0.005: a thousand shuffles know 0.96 to sqrt(0.96·0.04/1000) = 0.006.
    expect(Math.abs(confidenceOfEach([one], 0.96) - 0.96)).toBeLessThan(0.02);
    expect(confidenceOfEach([one, one, one, one], 0.96)).toBe(confidenceOfEach([one], 0.96));
  });

  test("seven that have nothing in common need hold about what independence asks for", () => {
    // [calc] 0.96^(1/7) = 0.9942; the outward ranks give back 0.065 deviations, and a thousand shuffles are uneven.
    const seven = confidenceOfEach(Array.from({ length: 7 }, noise), 0.96);
    expect(seven).toBeGreaterThan(0.989);
    expect(seven).toBeLessThan(0.997);
  });

  test("nothing to compare asks for nothing more", () => {
    expect(confidenceOfEach([], 0.96)).toBe(0.96);
  });
});
