import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { beforeAll, describe, expect, it } from "vitest";
import { type Keeping, Listener } from "../../../core/listen/listener.ts";
import type { Listening } from "../../../core/listen/listening.ts";
import { noise, take } from "./signals.ts";

/**
 * Ten minutes of playing. At 11,025 samples a second a frame is 55 samples or 4.989 ms long [calc]: a clock that counted 5 ms
 * a frame would be 1.4 s late by then.
 */
const RATE = 11_025;
const LENGTH_SECONDS = 600;
const BAR_SECONDS = 4;
const NOTE_SECONDS = 0.5;
const BAR = [60, 64, 67, 72, 71, 67, 65, 62];

/** V8's collector, so that what is measured is held on to and not merely left lying. */
function memoryBytes(): number {
  setFlagsFromString("--expose-gc");
  (runInNewContext("gc") as () => void)();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

/** A whole number of bars: every note of the take lies at a multiple of half a second. */
function bar(): Float32Array {
  const tones = BAR.map((midi, place) => ({
    onSeconds: place * NOTE_SECONDS,
    offSeconds: (place + 1) * NOTE_SECONDS - 0.05,
    hz: 440 * 2 ** ((midi - 69) / 12),
    dbfs: -20,
  }));
  const room = noise(BAR_SECONDS * RATE, 0.0003, 3);
  return take(RATE, BAR_SECONDS, tones).map((value, i) => value + (room[i] ?? 0));
}

/** Four minutes for compiled code, which a busy machine delays, and for buffers to get their final size. */
const SETTLED_SECONDS = 240;

/** @returns growth in either half of what comes after the settling, the smaller: what the runner keeps once is in one of them */
function listenLong(
  keeping: Keeping,
  lengthSeconds: number,
): { readonly growthBytes: number; readonly heard: Listening } {
  const samples = bar();
  const listener = new Listener(RATE, keeping);
  const half = SETTLED_SECONDS + (lengthSeconds - SETTLED_SECONDS) / 2;
  let [settled, halfWay] = [0, 0];
  for (let at = 0; at < lengthSeconds; at += BAR_SECONDS) {
    if (at === SETTLED_SECONDS) settled = memoryBytes();
    if (at === half) halfWay = memoryBytes();
    listener.push(samples);
  }
  const growthBytes = Math.min(halfWay - settled, memoryBytes() - halfWay);
  return { growthBytes, heard: listener.finish() };
}

describe("ten minutes of playing", () => {
  let notes: ReturnType<typeof listenLong>;
  beforeAll(() => {
    notes = listenLong("notes", LENGTH_SECONDS);
  }, 120_000);

  it("grow by the notes found and nothing else", () => {
    // 360 notes in the three minutes of a half [calc], at most 1 kB each; what the test runner itself does meanwhile is
    // let off a quarter of a megabyte. The five columns of frames would be 3 x 60 x 200 x 4 bytes = 144 kB each.
    expect(notes.growthBytes).toBeLessThan(360 * 1024 + 250_000);
  });

  it("grow not at all for the live estimate alone", () => {
    expect(listenLong("nothing", 360).growthBytes).toBeLessThan(250_000);
  });

  it("keep the clock of the sample count: the last minute's onsets lie where the first minute's do", () => {
    const onsets = notes.heard.notes.map(({ onSeconds }) => onSeconds);
    expect(onsets).toHaveLength(LENGTH_SECONDS / NOTE_SECONDS);
    const late = onsets.map((on, place) => 1000 * (on - place * NOTE_SECONDS));
    const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;
    const minute = 60 / NOTE_SECONDS;
    // A frame is 5 ms; the place of an onset within one averages out to well under a tenth of that over 120 notes.
    expect(Math.abs(mean(late.slice(-minute)) - mean(late.slice(0, minute)))).toBeLessThan(0.5);
    expect(Math.max(...late.map(Math.abs))).toBeLessThan(12);
    expect(notes.heard.durationSeconds).toBe(LENGTH_SECONDS);
  });
});
