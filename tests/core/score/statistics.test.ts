import { describe, expect, test } from "vitest";
import { fitLine, mean, sampleDeviation, steadyLine } from "../../../core/score/statistics.ts";

describe("statistics", () => {
  test("mean and sample deviation of NIST's example row", () => {
    // NIST/SEMATECH e-Handbook of Statistical Methods, StRD data set NumAcc1 (10000001, 10000003, 10000002):
    // certified mean 10000002, certified standard deviation 1 [M: values from memory, redone by hand].
    const row = [10000001, 10000003, 10000002];
    expect(mean(row)).toBe(10000002);
    expect(sampleDeviation(row)).toBe(1);
  });

  test("too few values give no number", () => {
    expect(mean([])).toBeNull();
    expect(sampleDeviation([3])).toBeNull();
    expect(
      fitLine([
        { x: 0, y: 0 },
        { x: 1, y: 1 },
      ]),
    ).toBeNull();
    expect(
      fitLine([
        { x: 1, y: 0 },
        { x: 1, y: 1 },
        { x: 1, y: 2 },
      ]),
    ).toBeNull();
  });

  test("the first line of Anscombe's quartet has slope 0.500 and residual deviation 1.237", () => {
    // F. J. Anscombe, The American Statistician 27 (1973) 17-21: y = 3 + 0.5 x, residual sum of squares 13.75 on 9 degrees of freedom [F].
    const x = [10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5];
    const y = [8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68];
    const line = fitLine(x.map((value, place) => ({ x: value, y: y[place] ?? 0 })));
    expect(line?.slope).toBeCloseTo(0.5, 2);
    expect(line?.residualDeviation).toBeCloseTo(Math.sqrt(13.75 / 9), 2);
  });

  test("a line by the middle of the slopes is not turned by one point far off", () => {
    // [calc] y = 2 + 3 x but for one point: of the 15 slopes between 6 points 10 are 3, so is the middle one.
    const points = [0, 1, 2, 3, 4, 5].map((x) => ({ x, y: x === 4 ? 99 : 2 + 3 * x }));
    expect(steadyLine(points)?.slope).toBeCloseTo(3, 12);
    expect(steadyLine(points)?.atZero).toBeCloseTo(2, 12);
    expect(steadyLine(points.slice(0, 2))).toBeNull();
  });
});
