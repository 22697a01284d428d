import { describe, expect, it, test } from "vitest";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import type { HeardNote } from "../../../core/listen/listening.ts";
import { slowDown } from "../../../core/listen/slow-down.ts";
import { noise, take } from "./signals.ts";

/** C3, the lowest reed of a low set, to G7, the highest of a high one, and between. */
const PITCHES_HZ = [130.8, 196, 392.4, 880.3, 1975, 3136];
const RATES_HZ = [44_100, 48_000];
const TONE = { onSeconds: 0.3, offSeconds: 1.3, dbfs: -20 };

/** Without the ring of a note's end, which may be heard twice. */
const longNotes = (notes: readonly HeardNote[]) =>
  notes.filter((note) => note.offSeconds - note.onSeconds > 0.1);

const centsOff = (note: HeardNote | undefined, hz: number) =>
  1200 * Math.log2((440 * 2 ** (((note?.pitchMidi ?? Number.NaN) - 69) / 12)) / hz);

const rmsOf = (samples: Float32Array) =>
  Math.sqrt(samples.reduce((sum, value) => sum + value * value, 0) / samples.length);

describe("a take at half speed", () => {
  describe.each(RATES_HZ)("at %d samples a second", (rate) => {
    // 1 cent: half of what the best ears notice (2 cents is [P] the least anyone tells apart).
    it.each(PITCHES_HZ)("a reed of %d Hz keeps its pitch and lasts twice as long", (hz) => {
      const played = take(rate, 1.8, [{ ...TONE, hz }]);
      const slowed = slowDown(played, rate, 0.5);
      expect(slowed.length).toBe(2 * played.length);
      const [note, ...others] = longNotes(listenToTake(slowed, rate).notes);
      expect(others).toEqual([]);
      expect(Math.abs(centsOff(note, hz))).toBeLessThan(1);
      // [calc] 2 x (1.3 - 0.3 s). Each end may lie 10 ms of the take beside its place, 20 ms when slowed, and is softened.
      const length = (note?.offSeconds ?? 0) - (note?.onSeconds ?? 0);
      expect(Math.abs(length - 2)).toBeLessThan(0.15);
      expect(Math.abs((note?.onSeconds ?? 0) - 0.6)).toBeLessThan(0.03);
    });
  });

  test("the loudness of a held note does not flutter", () => {
    const rate = 48_000;
    const slowed = slowDown(take(rate, 1.8, [{ ...TONE, hz: 587.9 }]), rate, 0.5);
    const levels: number[] = [];
    for (let at = 0.7; at < 2.4; at += 0.02)
      levels.push(20 * Math.log10(rmsOf(slowed.subarray(at * rate, (at + 0.02) * rate))));
    // 1 dB is [P] about the least change of loudness a listener notices.
    expect(Math.max(...levels) - Math.min(...levels)).toBeLessThan(1);
    expect(Math.abs((levels[40] ?? 0) + 20)).toBeLessThan(1);
  });

  test("eight notes a second each begin at twice their time, in order, on their pitch", () => {
    const rate = 44_100;
    const midis = [67, 69, 71, 74, 76, 74, 71, 69, 67, 79];
    const tones = midis.map((midi, place) => ({
      onSeconds: 0.3 + place * 0.125,
      offSeconds: 0.3 + (place + 1) * 0.125 - 0.015,
      hz: 440 * 2 ** ((midi - 69) / 12),
      dbfs: -20,
    }));
    const played = take(rate, 2, tones);
    const heard = longNotes(listenToTake(slowDown(played, rate, 0.5), rate).notes);
    expect(heard.map((note) => Math.round(note.pitchMidi ?? 0))).toEqual(midis);
    heard.forEach((note, place) => {
      // 10 ms of the take are 20 ms when slowed; 40 leave room for the softened attack.
      expect(Math.abs(note.onSeconds - 2 * (tones[place]?.onSeconds ?? 0)), `note ${place}`).toBeLessThan(
        0.04,
      );
    });
  });

  test("noise stays noise of the same loudness", () => {
    const rate = 48_000;
    const slowed = slowDown(noise(rate, 0.1, 5), rate, 0.5);
    // Pieces of noise that are alike only by chance add up to less: [calc] never below -3 dB.
    expect(20 * Math.log10(rmsOf(slowed) / 0.1)).toBeGreaterThan(-3);
    expect(20 * Math.log10(rmsOf(slowed) / 0.1)).toBeLessThan(0.5);
  });
});

test("at full speed every sample comes back", () => {
  const played = noise(10_000, 0.2, 8);
  const same = slowDown(played, 44_100, 1);
  expect(same.length).toBe(played.length);
  // A fade and its mirror image add up to 1 but for rounding to 32 bits.
  expect(same.every((value, i) => Math.abs(value - (played[i] ?? 0)) < 1e-6)).toBe(true);
});

test("silence stays silence, and nothing stays nothing", () => {
  expect(slowDown(new Float32Array(5000), 48_000, 0.5).every((value) => value === 0)).toBe(true);
  expect(slowDown(new Float32Array(0), 48_000, 0.5).length).toBe(0);
  expect(slowDown(new Float32Array([0.5]), 48_000, 0.5).length).toBe(2);
});

test("progress rises to the end", () => {
  const shares: number[] = [];
  slowDown(noise(96_000, 0.1, 2), 8000, 0.5, (share) => shares.push(share));
  expect(shares.length).toBeGreaterThan(3);
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  expect(shares.every((share) => share >= 0 && share <= 1)).toBe(true);
});

test.each([0, 0.2, 1.5, Number.NaN, -0.5])("a speed of %d is refused", (speed) => {
  expect(() => slowDown(new Float32Array(10), 48_000, speed)).toThrow(RangeError);
});
