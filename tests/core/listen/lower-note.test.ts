import { describe, expect, it } from "vitest";
import { harmonicReadAt } from "../../../core/listen/lower-note.ts";

const RATE = 48_000;
const LOWEST_HZ = 115;

/** Sines of given frequency and amplitude, each fading by so many decibels a second. */
function lines(...of: readonly { hz: number; amplitude: number; fallDb?: number }[]): Float64Array {
  return Float64Array.from({ length: 0.1 * RATE }, (_, i) =>
    of.reduce((sum, { hz, amplitude, fallDb = 0 }, n) => {
      const level = amplitude * 10 ** ((-fallDb * i) / RATE / 20);
      return sum + level * Math.sin((2 * Math.PI * hz * i) / RATE + n * n);
    }, 0),
  );
}

/** A reed at 440 Hz of which a room has left little but its third harmonics. */
const thirds = [3, 6].map((k) => ({ hz: 440 * k, amplitude: 1 / k }));
const others = (fallDb: number) =>
  [1, 2, 4, 5, 7, 8].map((k) => ({ hz: 440 * k, amplitude: 0.1 / k, fallDb }));

describe("a pitch read at a harmonic of a lower note", () => {
  it("is told by that note's other harmonics, as long as they hold on", () => {
    expect(harmonicReadAt(lines(...thirds, ...others(0)), RATE, 1320, LOWEST_HZ)).toBe(3);
  });

  it("is a note of its own above what only rings on in a room, 60 dB in 0.4 s", () => {
    expect(harmonicReadAt(lines(...thirds, ...others(150)), RATE, 1320, LOWEST_HZ)).toBe(1);
  });

  it("is a note of its own where nothing sounds between its harmonics", () => {
    expect(harmonicReadAt(lines(...thirds), RATE, 1320, LOWEST_HZ)).toBe(1);
  });

  it("is told an octave below, too", () => {
    const of = [1, 2, 3, 4, 5, 6, 7, 8].map((k) => ({ hz: 330 * k, amplitude: (k % 2 === 0 ? 1 : 0.1) / k }));
    expect(harmonicReadAt(lines(...of), RATE, 660, LOWEST_HZ)).toBe(2);
  });

  it("is never below the lowest note of any harp", () => {
    const of = [1, 2, 3, 4, 5, 6].map((k) => ({ hz: 100 * k, amplitude: k % 2 === 0 ? 1 : 0.1 }));
    expect(harmonicReadAt(lines(...of), RATE, 200, LOWEST_HZ)).toBe(1);
  });
});
