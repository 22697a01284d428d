import { describe, expect, test } from "vitest";
import { LoudspeakerWatch } from "../../../renderer/practice/loudspeaker-watch.ts";

/** A count-in of four at 120 a minute, its first beat half a second from the beginning. */
const BEATS = [0.5, 1, 1.5, 2];

/** Readings thirty a second for three seconds. */
function watch(level: (t: number) => number, midi: (t: number) => number | null = () => null): boolean {
  const watching = new LoudspeakerWatch(BEATS);
  for (let n = 0; n < 90; n++) watching.hear(n / 30, level(n / 30), midi(n / 30));
  return watching.hearsBeat;
}

/** A click of 40 ms, so late after each beat. */
const clicks = (late: number, loud: number, floor: number) => (t: number) =>
  BEATS.some((beat) => t >= beat + late && t < beat + late + 0.04) ? loud : floor;

describe("the beat in the microphone", () => {
  test.each([0, 0.06, 0.2])("is noticed where it comes %s s late", (late) => {
    expect(watch(clicks(late, -30, -65))).toBe(true);
  });

  test("is not noticed in a quiet or an evenly noisy room", () => {
    expect(watch(() => -70)).toBe(false);
    expect(watch((t) => -40 + 3 * Math.sin(17 * t))).toBe(false);
  });

  test("is too faint to matter below the noise, or when it hardly rises above it", () => {
    expect(watch(clicks(0.05, -64, -90))).toBe(false);
    expect(watch(clicks(0.05, -40, -46))).toBe(false);
  });

  test("is not a door that falls shut once", () => {
    expect(watch((t) => (t > 1.1 && t < 1.2 ? -20 : -65))).toBe(false);
  });

  test("is not a player who warms up in the count-in; the click's own short pitch is none", () => {
    const level = clicks(0.05, -30, -65);
    expect(watch(level, (t) => (t > 0.6 && t < 1.4 ? 74 : null))).toBe(false);
    expect(watch(level, (t) => (level(t) === -30 ? 93 : null))).toBe(true);
  });

  test("is looked for in the count-in alone", () => {
    const late = (t: number) => ([2.5, 2.75].some((beat) => t >= beat && t < beat + 0.04) ? -30 : -65);
    expect(watch(late)).toBe(false);
  });
});
