import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { RowValue } from "../../../core/progress/statistics/like-pairs.ts";
import { normalQuantile, probabilityBelow } from "../../../core/progress/statistics/normal-quantile.ts";
import { theilSen } from "../../../core/progress/statistics/theil-sen.ts";
import { wilsonInterval } from "../../../core/progress/statistics/wilson.ts";

const points = (xs: readonly number[], ys: readonly number[], row = "one"): readonly RowValue[] =>
  xs.map((x, place) => ({ row, x, y: ys[place] ?? Number.NaN, weight: 1 }));
const inOrder = (ys: readonly number[]) =>
  points(
    ys.map((_, place) => place),
    ys,
  );

describe("points of the normal distribution", () => {
  // [M] Abramowitz and Stegun 1964, table 26.5: x for Q = 0.025, 0.005, 0.25.
  test.each([
    [0.975, 1.95996],
    [0.995, 2.57583],
    [0.75, 0.67449],
    [0.5, 0],
    [0.025, -1.95996],
  ])("%d lies below %d", (p, x) => {
    expect(normalQuantile(p)).toBeCloseTo(x, 5);
  });

  // [M] the same table; simple-statistics' own probit is 0.003 off here, which would make intervals too narrow.
  test("and back: below the point lies the probability", () => {
    for (const p of [1e-4, 0.025, 0.5, 0.975, 0.9964])
      expect(probabilityBelow(normalQuantile(p))).toBeCloseTo(p, 9);
    expect(probabilityBelow(1.95996)).toBeCloseTo(0.975, 6);
  });

  test("a probability of nothing or all has no point", () => {
    for (const p of [0, 1, -1, Number.NaN]) expect(() => normalQuantile(p)).toThrow(RangeError);
  });
});

describe("Theil and Sen's slope", () => {
  // Sen 1968, the worked example: slope 4, intercept 6, interval at 93 per cent 26/7 to 35/8, as [X] the tests of R's deming
  // (thielsen.R) and of SciPy (theilslopes: 3.71, 4.38) give it; the paper itself was not seen.
  const SEN = points([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78]);

  test("of Sen's own example is 4, between 26/7 and 35/8 at 93 per cent", () => {
    const found = theilSen(SEN, 0.93);
    expect(found?.slope).toBe(4);
    expect(found?.low).toBeCloseTo(26 / 7, 12);
    expect(found?.high).toBeCloseTo(35 / 8, 12);
    // [calc] middle of 5, 7, 7, 4, 5, 7, 6.
    expect(found?.atZero.get("one")).toBe(6);
  });

  test("the order of the points does not matter", () => {
    expect(theilSen([...SEN].reverse(), 0.93)).toEqual(theilSen(SEN, 0.93));
  });

  test("ties shrink the variance of S as Kendall's formula has it", () => {
    // [calc] n = 10, y with ties of 3 and 2: (10·9·25 - 3·2·11 - 2·1·9) / 18 = 2166 / 18 = 120.33; z = 1.96, reach 21.50;
    // of 45 slopes floor((45 - 21.50) / 2) = 11: the 11th from either end.
    const ys = [1, 4, 4, 4, 6, 5, 8, 8, 9, 12];
    const slopes = ys
      .flatMap((a, i) => ys.slice(i + 1).map((b, further) => (b - a) / (further + 1)))
      .sort((a, b) => a - b);
    const found = theilSen(inOrder(ys));
    expect(slopes).toHaveLength(45);
    expect([found?.low, found?.high]).toEqual([slopes[10], slopes[34]]);
  });

  test("four sessions bound nothing, and two are no slope", () => {
    // [calc] n = 4: variance 4·3·13/18 = 8.67, reach 5.77 of 6 slopes: rank 0.
    const found = theilSen(inOrder([1, 2, 3, 4]));
    expect([found?.low, found?.high]).toEqual([-Infinity, Infinity]);
    expect(theilSen(inOrder([1, 2]))).toBeNull();
  });

  test("holds at least 95 in 100 rows of eight without a trend, counted over every order of them", () => {
    // [M] Kendall 1970, appendix table 1: n = 8, S >= 18 has probability 0.016. [calc] claims need 28 - 2·5 = 18 or more:
    // two-sided 0.031.
    let [claims, orders] = [0, 0];
    for (const order of permutations([0, 1, 2, 3, 4, 5, 6, 7])) {
      const found = theilSen(inOrder(order));
      orders += 1;
      if (found !== null && (found.low > 0 || found.high < 0)) claims += 1;
    }
    expect(orders).toBe(40_320);
    expect(claims / orders).toBeCloseTo(0.031, 3);
  });

  test("a session far off does not turn it", () => {
    // [calc] one of twenty turned to anything moves the middle of 190 slopes by 19 places at most.
    const even = Array.from({ length: 20 }, (_, i) => 20 - 0.15 * i);
    const slope = theilSen(inOrder(even.map((y, i) => (i === 10 ? 300 : y))))?.slope;
    expect(slope).toBeCloseTo(-0.15, 10);
  });

  test("moves and stretches with the values", () => {
    const rows = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 8, maxLength: 25 });
    fc.assert(
      fc.property(rows, fc.integer({ min: 1, max: 9 }), fc.integer({ min: -99, max: 99 }), (ys, by, up) => {
        const one = theilSen(inOrder(ys));
        const other = theilSen(inOrder(ys.map((y) => by * y + up)));
        for (const part of ["slope", "low", "high"] as const)
          expect(other?.[part]).toBeCloseTo(by * (one?.[part] ?? Number.NaN), 6);
      }),
    );
  });
});

function* permutations(values: readonly number[]): Generator<readonly number[]> {
  if (values.length <= 1) yield values;
  else
    for (const [place, value] of values.entries())
      for (const rest of permutations(values.filter((_, other) => other !== place))) yield [value, ...rest];
}

describe("Wilson's interval", () => {
  // [M] Newcombe 1998 (17, 857-872), table I, method 3.
  test.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])("of %d in %d is %d to %d", (hit, of, low, high) => {
    const found = wilsonInterval(hit, of);
    expect(found?.low).toBeCloseTo(low, 4);
    expect(found?.high).toBeCloseTo(high, 4);
  });

  test("is the same from the other side, stays within 0 to 1, and holds the share", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 500 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (of, part) => {
          const hit = Math.round(part * of);
          const [one, other] = [wilsonInterval(hit, of), wilsonInterval(of - hit, of)];
          if (one === null || other === null) throw new Error("no interval");
          expect(one.low).toBeCloseTo(1 - other.high, 12);
          expect(one.low).toBeGreaterThanOrEqual(0);
          expect(one.low).toBeLessThanOrEqual(one.share);
          expect(one.high).toBeGreaterThanOrEqual(one.share);
        },
      ),
    );
  });

  test("of nothing is none, and more hits than notes are a mistake of ours", () => {
    expect(wilsonInterval(0, 0)).toBeNull();
    expect(() => wilsonInterval(3, 2)).toThrow("3 of 2 is no share");
  });
});
