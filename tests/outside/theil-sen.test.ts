import { TheilSenRegression } from "ml-regression-theil-sen";
import { describe, expect, test } from "vitest";
import { gaussian, seededRandom } from "../../core/exercise/seeded-random.ts";
import { theilSen } from "../../core/progress/statistics/theil-sen.ts";

describe("another's Theil-Sen", () => {
  // [X] ml-regression-theil-sen 3.0.0: middle of the slopes, and of what they leave. Of an even number it takes the lower
  // middle, we the mean of both: so there are 7, 11, 15, … places, with an odd number of slopes. 1e-9: the rounding of sums.
  test("has our slope and where our line begins, on a hundred rows of chance", () => {
    const random = seededRandom(11);
    const normal = gaussian(random);
    for (let round = 0; round < 100; round++) {
      const places = 7 + 4 * Math.floor(10 * random());
      const xs = Array.from({ length: places }, (_, place) => place + 0.8 * random());
      const ys = xs.map((x) => 12 - 0.1 * x + normal() * (random() < 0.1 ? 20 : 1));
      const theirs = new TheilSenRegression(xs, ys);
      const ours = theilSen(xs.map((x, place) => ({ row: "one", x, y: ys[place] ?? 0, weight: 1 })));
      expect(ours?.slope).toBeCloseTo(theirs.slope, 9);
      expect(ours?.atZero.get("one")).toBeCloseTo(theirs.intercept, 9);
    }
  });
});
