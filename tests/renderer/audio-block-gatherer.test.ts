import { describe, expect, test } from "vitest";
import { BlockGatherer } from "../../renderer/audio/block-gatherer.ts";
import { TakeRecorder } from "../../renderer/audio/take-recorder.ts";
import type { TapBlock } from "../../renderer/audio/tap-messages.ts";

/** The audio engine's block. */
const QUANTUM = 128;
const RATE_HZ = 44_100;

/** A take of blocks that come one after another, whatever the clock says of each; sample n of the sound is n + 1. */
function gathered(clock: readonly number[]): readonly TapBlock[] {
  const blocks: TapBlock[] = [];
  const gatherer = new BlockGatherer((block) => blocks.push(block));
  clock.forEach((frame, n) => {
    gatherer.take(
      frame,
      Float32Array.from({ length: QUANTUM }, (_, i) => n * QUANTUM + i + 1),
    );
  });
  return blocks;
}

const placesOf = (blocks: readonly TapBlock[]) =>
  blocks.map(({ frame, samples }) => [frame, samples.length, samples[0]]);

describe("the samples of the microphone on the clock", () => {
  test("four blocks of the engine go on together, under the frame of the first", () => {
    // [calc] 4 * 128 = 512.
    const clock = Array.from({ length: 8 }, (_, n) => 1000 + n * QUANTUM);
    expect(placesOf(gathered(clock))).toEqual([
      [1000, 512, 1],
      [1512, 512, 513],
    ]);
  });

  test.each([
    ["in the midst of four", [0, 128, 128, 384, 512, 640, 768, 896]],
    ["at the first of four", [0, 128, 256, 384, 384, 640, 768, 896]],
    ["for two blocks", [0, 128, 128, 128, 512, 640, 768, 896]],
  ])("a clock that stands still %s leaves no gap in the sound", (_, clock) => {
    const blocks = gathered(clock);
    expect(placesOf(blocks)).toEqual([
      [0, 512, 1],
      [512, 512, 513],
    ]);
    const recorder = new TakeRecorder(RATE_HZ);
    recorder.start();
    for (const block of blocks) recorder.take(block);
    const take = recorder.stop();
    expect(take?.lostSamples).toBe(0);
    expect(take?.samples).toEqual(Float32Array.from({ length: 1024 }, (_, i) => i + 1));
  });

  test("samples left out are a gap of their length, and what follows keeps its true time", () => {
    // [calc] two blocks of 128 before the gap of 256, then one whole group at 512.
    const blocks = gathered([0, 128, 512, 640, 768, 896]);
    expect(placesOf(blocks)).toEqual([
      [0, 256, 1],
      [512, 512, 257],
    ]);
    const recorder = new TakeRecorder(RATE_HZ);
    recorder.start();
    for (const block of blocks) recorder.take(block);
    const take = recorder.stop();
    expect(take?.lostSamples).toBe(256);
    expect(take?.samples).toHaveLength(1024);
    expect(take?.samples[512]).toBe(257);
  });
});
