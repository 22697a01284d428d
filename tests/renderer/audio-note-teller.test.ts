import { describe, expect, test } from "vitest";
import { knownReeds } from "../../core/score/known-reeds.ts";
import { NoteTeller } from "../../renderer/audio/note-teller.ts";
import { harp } from "../support/harps.ts";
import { walkSound } from "../support/walked-harp.ts";

const RATE = 48_000;
const BLOCK = 512;

/** Notes as they are told while the sound comes in blocks. @param lose the block that never comes, or null */
function toldOf(samples: Float32Array, lose: number | null = null) {
  const teller = new NoteTeller(RATE, knownReeds(harp("C")));
  const told = [];
  for (let block = 0; block * BLOCK < samples.length; block++) {
    const frame = 1_000_000 + block * BLOCK;
    const piece = samples.subarray(block * BLOCK, (block + 1) * BLOCK);
    if (block !== lose) told.push(...teller.take({ frame, samples: piece }));
  }
  return told;
}

/** [calc] 440 Hz x 2^(4/1200): A4 four cents sharp; then C5 in tune; notes from 0.5 and 1.3 s on, half a second each. */
const TONES = [
  { hz: 440 * 2 ** (4 / 1200), seconds: 0.5, restSeconds: 0.3 },
  { hz: 440 * 2 ** (3 / 12), seconds: 0.5, restSeconds: 0.3 },
];

describe("notes told one by one", () => {
  const samples = walkSound(TONES, { rateHz: RATE, seed: 3, snrDb: 40 });

  test("come soon after their end, in order and once, with the pitch of the whole note", () => {
    const told = toldOf(samples);
    expect(told).toHaveLength(2);
    const [first, second] = told;
    expect(Math.abs(Number(first?.note.pitchMidi) - 69.04)).toBeLessThan(0.002);
    expect(Math.abs(Number(second?.note.pitchMidi) - 72)).toBeLessThan(0.002);
    for (const { note, nowSeconds } of told) {
      expect(nowSeconds - note.offSeconds).toBeGreaterThan(0);
      // Waiting 0.12 s for what may join it, and what listening itself takes.
      expect(nowSeconds - note.offSeconds).toBeLessThan(0.3);
    }
  });

  test("keep their time when sound is lost between them", () => {
    // [calc] 1.1 s lies in the rest: block 103 of 512 samples.
    const told = toldOf(samples, 103);
    expect(told).toHaveLength(2);
    expect(Math.abs(Number(told[1]?.note.onSeconds) - 1.3)).toBeLessThan(0.02);
  });
});
