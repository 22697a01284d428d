import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Area, LEAST_SIZE, placeOf, readPlace } from "../../electron/window-place.ts";

const LAPTOP: Area = { x: 0, y: 25, width: 1440, height: 850 };
const BESIDE: Area = { x: 1440, y: -200, width: 1920, height: 1160 };
const at = (x: number, y: number, width = 1000, height = 700) => ({
  ...{ x, y, width, height },
  isMaximised: false,
  isFullScreen: false,
});

describe("the place of the window", () => {
  test("on a screen that is still there it is kept", () => {
    expect(placeOf(at(1500, -100), [LAPTOP, BESIDE])).toEqual({ x: 1500, y: -100, width: 1000, height: 700 });
  });

  test("with its screen gone it opens in the middle, in a size that fits", () => {
    expect(placeOf(at(1500, -100, 1800, 1100), [LAPTOP])).toEqual({ width: 1440, height: 850 });
  });

  // [calc] 120 points of the top 40 have to lie on a screen: 1440 - 120 = 1320 is the last x, 25 + 850 - 40 = 835 the last y.
  test.each([
    [1320, 835, true],
    [1321, 100, false],
    [100, 836, false],
    [-880, 100, true],
    [-881, 100, false],
    [100, 24, false],
  ])("at %i, %i it can be taken hold of: %s", (x, y, isKept) => {
    expect("x" in placeOf(at(x, y), [LAPTOP])).toBe(isKept);
  });

  test("without any screen told it has its size alone", () => {
    expect(placeOf(at(5, 5), [])).toEqual({ width: 1280, height: 860 });
  });

  test("whatever was kept, enough of it can be reached, and it is never smaller than it may be", () => {
    const number = fc.integer({ min: -99_999, max: 99_999 });
    const size = fc.integer({ min: 1, max: 99_999 });
    fc.assert(
      fc.property(number, number, size, size, fc.boolean(), (x, y, width, height, two) => {
        const screens = two ? [LAPTOP, BESIDE] : [LAPTOP];
        const place = placeOf(at(x, y, width, height), screens);
        expect(place.width).toBeGreaterThanOrEqual(LEAST_SIZE.width);
        expect(place.height).toBeGreaterThanOrEqual(LEAST_SIZE.height);
        if (place.x === undefined || place.y === undefined) return;
        const { x: left, y: top } = place;
        const isReached = screens.some(
          (one) =>
            left < one.x + one.width && left + width > one.x && top >= one.y && top < one.y + one.height,
        );
        expect(isReached).toBe(true);
      }),
    );
  });

  test("only whole numbers of a size there can be are read; anything besides is passed over", () => {
    const text = JSON.stringify({ ...at(1, 2), more: "x", isMaximised: "yes" });
    expect(readPlace(text)).toEqual(at(1, 2));
    for (const [name, value] of [
      ["x", 1.5],
      ["y", "2"],
      ["width", 0],
      ["height", 1e9],
      ["x", null],
    ] as const)
      expect(readPlace(JSON.stringify({ ...at(1, 2), [name]: value })), name).toBeNull();
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.json()), (any) => {
        const place = readPlace(any);
        if (place !== null)
          expect(Number.isInteger(place.x + place.y + place.width + place.height)).toBe(true);
      }),
    );
  });
});
