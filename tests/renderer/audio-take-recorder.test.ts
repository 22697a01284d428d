import { describe, expect, test } from "vitest";
import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { midiToHz } from "../../core/pitch/equal-temperament.ts";
import { midi } from "../../core/units.ts";
import { TakeRecorder } from "../../renderer/audio/take-recorder.ts";
import type { TapBlock } from "../../renderer/audio/tap-messages.ts";

/** As the tap sends them. */
const BLOCK = 512;
const A4 = 69;

/** A reed-like tone at -20 dBFS between two times, a faint hiss around it. */
function tone(rate: number, pitch: number, from: number, to: number, seconds: number): Float32Array {
  const turn = (2 * Math.PI * midiToHz(midi(pitch))) / rate;
  return Float32Array.from({ length: Math.round(seconds * rate) }, (_, i) => {
    const hiss = 1e-4 * (((i * 7919) % 201) / 100 - 1);
    const sounding = i >= from * rate && i < to * rate;
    return hiss + (sounding ? 0.09 * (Math.sin(turn * i) + 0.6 * Math.sin(2 * turn * i)) : 0);
  });
}

/** The samples as blocks of the tap, from a frame of the clock on. */
function blocksOf(samples: Float32Array, firstFrame: number): TapBlock[] {
  return Array.from({ length: Math.floor(samples.length / BLOCK) }, (_, n) => ({
    frame: firstFrame + n * BLOCK,
    samples: samples.slice(n * BLOCK, (n + 1) * BLOCK),
  }));
}

/** Hands blocks over and gives the readings. */
const feed = (recorder: TakeRecorder, blocks: readonly TapBlock[]) =>
  blocks.map((block) => recorder.take(block));

describe("recording a take", () => {
  test.each([44_100, 48_000, 96_000])(
    "keeps every sample and hears what a whole take gives, at %d Hz",
    (rate) => {
      const samples = tone(rate, A4, 0.5, 1.2, 1.6);
      const recorder = new TakeRecorder(rate);
      feed(recorder, blocksOf(tone(rate, 60, 0, 1, 1), 0));
      recorder.start();
      const blocks = blocksOf(samples, 5 * rate);
      feed(recorder, blocks);
      const take = recorder.stop();
      const kept = samples.slice(0, blocks.length * BLOCK);
      expect(take?.samples).toEqual(kept);
      expect(take?.firstFrame).toBe(5 * rate);
      expect(take?.lostSamples).toBe(0);
      expect(take?.listening).toEqual(listenToTake(kept, rate));
      expect(take?.listening.notes).toHaveLength(1); // the middle C before the take is not in it
      expect(take?.listening.notes[0]?.pitchMidi).toBeCloseTo(A4, 2); // a cent
    },
  );

  test("a second reed is looked for where the harp in hand has one", () => {
    const rate = 48_000;
    const beside = tone(rate, A4 + 4, 0.5, 1.2, 1.6).map((value) => value * 10 ** (-10 / 20));
    const both = tone(rate, A4, 0.5, 1.2, 1.6).map((value, i) => value + (beside[i] as number));
    const leakOf = (known: KnownReeds | null) => {
      const recorder = new TakeRecorder(rate);
      recorder.start(known);
      feed(recorder, blocksOf(both, 0));
      return recorder.stop()?.listening.notes[0]?.leak ?? null;
    };
    const heard = leakOf([{ midi: A4, besideMidi: [A4 - 3, A4 + 4] }]);
    expect(heard?.pitchMidi).toBeCloseTo(A4 + 4, 1); // 10 cents
    expect(leakOf([{ midi: A4, besideMidi: [A4 - 3] }])).toBeNull();
    expect(leakOf(null)?.pitchMidi).toBeCloseTo(A4 + 4, 1);
  });

  test("samples that never came are counted and leave a silence of their length, so that later times stay true", () => {
    const rate = 48_000;
    const blocks = blocksOf(tone(rate, A4, 1, 1.6, 2), 960);
    const recorder = new TakeRecorder(rate);
    recorder.start();
    // Blocks 20 to 29 are lost: 0.21 to 0.32 s, before the note.
    feed(recorder, [...blocks.slice(0, 20), ...blocks.slice(30)]);
    const take = recorder.stop();
    expect(take?.lostSamples).toBe(10 * BLOCK); // [calc]
    expect(take?.samples.length).toBe(blocks.length * BLOCK);
    expect(take?.samples.subarray(20 * BLOCK, 30 * BLOCK).every((sample) => sample === 0)).toBe(true);
    expect(take?.listening.notes).toHaveLength(1);
    // 15 ms for the onset of a tone without an attack; without the silence it would come 107 ms early [calc].
    expect(Math.abs((take?.listening.notes[0]?.onSeconds ?? 0) - 1)).toBeLessThan(0.015);
  });

  test("a place where samples never came is told, and one of a second ends the take before it", () => {
    const rate = 48_000;
    const blocks = blocksOf(tone(rate, A4, 1, 1.6, 4), 0);
    const broken: number[] = [];
    const recorder = new TakeRecorder(rate, null, (missing) => broken.push(missing));
    recorder.start();
    const second = Math.ceil(rate / BLOCK);
    feed(recorder, [...blocks.slice(0, 20), ...blocks.slice(30, 100), ...blocks.slice(100 + second)]);
    expect(broken).toEqual([second * BLOCK]);
    const take = recorder.stop();
    expect(take?.samples.length).toBe(100 * BLOCK); // [calc] up to the break
    expect(take?.listening.durationSeconds).toBeCloseTo((100 * BLOCK) / rate, 9);
    // [calc] blocks 20 to 29 of 512 samples at 48,000 a second
    expect(take?.listening.holes).toEqual([
      { fromSeconds: (20 * BLOCK) / rate, toSeconds: (30 * BLOCK) / rate },
    ]);
    recorder.start();
    feed(recorder, blocks);
    expect(recorder.stop()?.samples.length).toBe(blocks.length * BLOCK);
  });

  test("a take that is whole only up to a moment ends there, and what was heard with it", () => {
    const rate = 48_000;
    const blocks = blocksOf(tone(rate, A4, 1, 1.6, 3), 960);
    const recorder = new TakeRecorder(rate);
    recorder.start();
    feed(recorder, blocks);
    const take = recorder.stop(960 + 1.3 * rate);
    expect(take?.samples.length).toBe(1.3 * rate);
    expect(take?.listening.durationSeconds).toBeCloseTo(1.3, 9);
    const notes = take?.listening.notes ?? [];
    expect(notes).toHaveLength(1);
    expect(notes[0]?.offSeconds).toBeLessThanOrEqual(1.31); // the last frame of 5 ms reaches past the end
    recorder.start();
    feed(recorder, blocks);
    expect(recorder.stop(900)).toBeNull(); // whole before it began
  });

  test("a second take begins empty", () => {
    const rate = 48_000;
    const recorder = new TakeRecorder(rate);
    recorder.start();
    feed(recorder, blocksOf(tone(rate, A4, 0, 1, 1), 0));
    recorder.stop();
    recorder.start();
    const later = blocksOf(tone(rate, 74, 0.2, 0.8, 1), 3 * rate);
    feed(recorder, later);
    const take = recorder.stop();
    expect(take?.firstFrame).toBe(3 * rate);
    expect(take?.samples.length).toBe(later.length * BLOCK);
    expect(take?.listening.notes.map((note) => Math.round(note.pitchMidi ?? 0))).toEqual([74]);
  });

  test("without a start, after a cancel, or with no sound at all there is no take", () => {
    const recorder = new TakeRecorder(48_000);
    const blocks = blocksOf(tone(48_000, A4, 0, 0.2, 0.2), 0);
    feed(recorder, blocks);
    expect(recorder.stop()).toBeNull();
    recorder.start();
    feed(recorder, blocks);
    recorder.cancel();
    expect(recorder.stop()).toBeNull();
    recorder.start();
    expect(recorder.stop()).toBeNull();
  });

  test.each(["recording", "idle"])(
    "a live reading while %s carries the clock's time of what it heard",
    (state) => {
      const rate = 48_000;
      const clock = 100 * rate;
      const recorder = new TakeRecorder(rate);
      // Earlier sound, then a pause the tap was away: the clock runs on.
      feed(recorder, blocksOf(tone(rate, 60, 0, 1, 1), 0));
      if (state === "recording") recorder.start();
      // D5 for half a second, then A4: each reading's time tells which it has to be.
      const samples = tone(rate, 74, 0, 0.5, 0.5);
      const both = Float32Array.from([...samples, ...tone(rate, A4, 0, 0.5, 0.5)]);
      const blocks = blocksOf(both, clock);
      const readings = feed(recorder, blocks);
      const pitched = readings.filter((reading) => reading.pitchMidi !== null);
      expect(pitched.length).toBeGreaterThan(60);
      for (const { frame, pitchMidi } of pitched) {
        const at = (frame - clock) / rate;
        // A window that holds the change may read either: 30 ms around it.
        if (Math.abs(at - 0.5) > 0.03) expect(Math.round(pitchMidi ?? 0)).toBe(at < 0.5 ? 74 : A4);
      }
      readings.forEach(({ frame }, n) => {
        const arrived = (blocks[n]?.frame ?? 0) + BLOCK;
        expect(frame).toBeLessThanOrEqual(arrived);
        // [calc] half a window of 46 ms, a block of 1024 and one of 512 samples: 56 ms at most behind.
        expect(arrived - frame).toBeLessThan(0.06 * rate);
      });
      expect(readings.at(-1)?.levelDbfs).toBeGreaterThan(-25);
      expect(readings.at(-1)?.levelDbfs).toBeLessThan(-15);
    },
  );

  test("an hour without a take keeps no more than the last moments", () => {
    const rate = 8000;
    const recorder = new TakeRecorder(rate);
    const second = tone(rate, A4, 0, 1, 1.024); // [calc] 16 blocks of 512
    for (let n = 0; n < 60; n++) feed(recorder, blocksOf(second, n * second.length));
    recorder.start();
    feed(recorder, blocksOf(second, 60 * second.length));
    expect(recorder.stop()?.listening.durationSeconds).toBeCloseTo(1.024, 3);
  });
});
