import { expect, test } from "vitest";
import { PIECE_SECONDS, TakeRecorder } from "../../renderer/audio/take-recorder.ts";
import type { TakePiece } from "../../renderer/audio/tap-messages.ts";

const BLOCK = 512;

/** Whole blocks of a clock from a frame on, every sample told apart by its value. */
const blocksFrom = (frame: number, count: number) =>
  Array.from({ length: count }, (_, n) => ({
    frame: frame + n * BLOCK,
    samples: Float32Array.from({ length: BLOCK }, (__, i) => Math.sin(n * BLOCK + i) / 4),
  }));

test.each([44_100, 48_000, 96_000])(
  "pieces of a running take at %d Hz are its samples on end, each of two seconds",
  (rate) => {
    const pieces: TakePiece[] = [];
    const recorder = new TakeRecorder(rate, (piece) => pieces.push(piece));
    for (const block of blocksFrom(0, 40)) recorder.take(block);
    expect(pieces).toEqual([]); // nothing is told between takes
    recorder.start();
    const count = Math.ceil((5.2 * rate) / BLOCK);
    const blocks = blocksFrom(40 * BLOCK, count);
    // A moment is left out; silence stands for it in the take and in its piece.
    for (const block of [...blocks.slice(0, 30), ...blocks.slice(33)]) recorder.take(block);
    const take = recorder.stop();
    expect(pieces).toHaveLength(2); // [calc] of 5.2 s, two seconds at a time
    for (const { firstFrame, samples } of pieces) {
      expect(firstFrame).toBe(40 * BLOCK);
      // [calc] the requirement: five seconds at the most; ours: up to the block that fills two
      expect(samples.length / rate).toBeGreaterThanOrEqual(PIECE_SECONDS);
      expect(samples.length / rate).toBeLessThan(PIECE_SECONDS + (4 * BLOCK) / rate);
    }
    const told = pieces.flatMap(({ samples }) => [...samples]);
    expect(
      Buffer.from(Float32Array.from(told).buffer).equals(
        Buffer.from(take?.samples.slice(0, told.length).buffer ?? new ArrayBuffer()),
      ),
    ).toBe(true);
    expect(take?.samples.length).toBe(count * BLOCK);
  },
);

test("the pieces of a take that is begun anew begin anew with it", () => {
  const rate = 48_000;
  const pieces: TakePiece[] = [];
  const recorder = new TakeRecorder(rate, (piece) => pieces.push(piece));
  recorder.start();
  const half = Math.floor(rate / BLOCK);
  for (const block of blocksFrom(0, half)) recorder.take(block);
  recorder.start();
  for (const block of blocksFrom(half * BLOCK, 2 * half + 2)) recorder.take(block);
  expect(pieces.map(({ firstFrame }) => firstFrame)).toEqual([half * BLOCK]);
});
