import { describe, expect, test } from "vitest";
import { LiveMeter } from "../../renderer/audio/live-meter.ts";

const RATE = 48_000;
const BLOCK = 512;
const reading = (frame: number) => ({ frame, pitchMidi: 69, levelDbfs: -20, secondReedDb: null });

/** Shows the meter seconds of blocks whose samples a function gives by block, and collects what it shows. */
function show(meter: LiveMeter, blocks: number, sampleOf: (block: number) => number) {
  return Array.from({ length: blocks }, (_, n) =>
    meter.take({ frame: n * BLOCK, samples: new Float32Array(BLOCK).fill(sampleOf(n)) }, reading(n * BLOCK)),
  ).filter((shown) => shown !== null);
}

describe("the live meter", () => {
  test("shows the first reading at once and then at most thirty a second", () => {
    const shown = show(new LiveMeter(RATE), Math.floor((10 * RATE) / BLOCK), () => 0.1);
    expect(shown[0]?.frame).toBe(0);
    expect(shown.length).toBeLessThanOrEqual(301); // [calc] 10 s x 30, and the first
    expect(shown.length).toBeGreaterThan(200);
  });

  test("a single clipped block between two readings is not lost", () => {
    // Block 5 lies between two readings in turn, and is shown all the same.
    const shown = show(new LiveMeter(RATE), 20, (n) => (n === 5 ? 1 : 0.1));
    expect(shown.filter((one) => one.clipped).map((one) => one.frame / BLOCK)).toEqual([5]);
  });

  test("the largest 16-bit value is clipped, one step less is not", () => {
    // [calc] 16-bit samples run from -32768 to 32767, divided by 32768.
    const clips = (sample: number) => show(new LiveMeter(RATE), 1, () => sample)[0]?.clipped;
    expect(clips(32_767 / 32_768)).toBe(true);
    expect(clips(-1)).toBe(true);
    expect(clips(32_766 / 32_768)).toBe(false);
  });

  test("exact zeros for more than a second are a shut microphone, the faintest hiss is an open one", () => {
    const perSecond = RATE / BLOCK;
    const meter = new LiveMeter(RATE);
    const shown = show(meter, Math.ceil(3 * perSecond), (n) => (n < perSecond ? 1e-6 : 0));
    const firstSilent = shown.find((one) => one.silent);
    // [calc] sound ends at 1 s; one second later, and one reading of 43 ms for the looking.
    expect((firstSilent?.frame ?? 0) / RATE).toBeGreaterThan(2 - BLOCK / RATE);
    expect((firstSilent?.frame ?? 0) / RATE).toBeLessThan(2.06);
    const again = meter.take(
      { frame: 4 * RATE, samples: new Float32Array(BLOCK).fill(-1e-6) },
      reading(4 * RATE),
    );
    expect(again?.silent).toBe(false);
  });

  test("a microphone that never gave a sound is shut too", () => {
    const shown = show(new LiveMeter(RATE), Math.ceil((1.2 * RATE) / BLOCK), () => 0);
    expect(shown.at(-1)?.silent).toBe(true);
  });

  test("a note that begins, changes or ends is shown at once, and a first clipped sample", () => {
    const meter = new LiveMeter(RATE);
    const at = (n: number, pitchMidi: number | null, sample = 0.1) =>
      meter.take(
        { frame: n * BLOCK, samples: new Float32Array(BLOCK).fill(sample) },
        { ...reading(n * BLOCK), pitchMidi },
      );
    // [calc] blocks of 10.7 ms: without news every fourth at most is shown
    expect(at(0, null)).not.toBeNull();
    expect(at(1, null)).toBeNull();
    expect(at(2, 69)?.pitchMidi).toBe(69);
    expect(at(3, 69.2)).toBeNull();
    expect(at(4, 71)?.pitchMidi).toBe(71);
    expect(at(5, null)?.pitchMidi).toBeNull();
    expect(at(6, null)).toBeNull();
    expect(at(7, null, 1)?.clipped).toBe(true);
    expect(at(8, null, 1)).toBeNull();
  });
});
