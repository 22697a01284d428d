import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Listener, listenToTake } from "../../../core/listen/listen-to-take.ts";
import { noise, take } from "./signals.ts";

const RATE = 44_100;

function someTake(): Float32Array {
  const tones = [65, 69, 69, 72, 77].map((midi, i) => ({
    onSeconds: 0.2 + 0.15 * i,
    offSeconds: 0.31 + 0.15 * i,
    hz: 440 * 2 ** ((midi - 69) / 12),
    dbfs: -20,
  }));
  const samples = take(RATE, 1.2, tones);
  const hiss = noise(samples.length, 0.003, 2);
  return samples.map((value, i) => value + (hiss[i] as number));
}

describe("listening while recording", () => {
  it("hears exactly the same however the samples are cut into chunks", () => {
    const samples = someTake();
    const whole = listenToTake(samples, RATE);
    expect(whole.notes.length).toBe(5);
    const sizes = fc.array(fc.oneof(fc.integer({ min: 0, max: 200 }), fc.integer({ min: 0, max: 20_000 })), {
      minLength: 1,
      maxLength: 60,
    });
    fc.assert(
      fc.property(sizes, (chunks) => {
        const listener = new Listener(RATE);
        let at = 0;
        for (const size of chunks) {
          listener.push(samples.subarray(at, at + size));
          at = Math.min(samples.length, at + size);
        }
        listener.push(samples.subarray(at));
        expect(listener.finish()).toEqual(whole);
      }),
      { numRuns: 25 },
    );
  });

  it("shows the note that sounds within 50 ms of its attack", () => {
    // 21 ms for half the window, up to 10 ms to the next reading, 5 ms for the block being filled, and the time the attack takes to outgrow the noise.
    const samples = take(48_000, 1, [{ onSeconds: 0.5, offSeconds: 1, hz: 587.33, dbfs: -20 }]);
    const listener = new Listener(48_000);
    expect(listener.liveFrame).toBeNull();
    let shown: number | null = null;
    for (let at = 0; at < samples.length; at += 128) {
      listener.push(samples.subarray(at, at + 128));
      const frame = listener.liveFrame;
      if (
        frame?.voiced &&
        frame.pitchHz !== null &&
        Math.abs(1200 * Math.log2(frame.pitchHz / 587.33)) < 50
      ) {
        shown ??= (at + 128) / 48_000;
      }
    }
    expect(shown).not.toBeNull();
    expect((shown ?? 9) - 0.5).toBeLessThan(0.05);
  });

  it("has no frames to show for a take of nothing but still answers", () => {
    const { notes, durationSeconds, clippedShare } = new Listener(RATE).finish();
    expect({ notes, durationSeconds, clippedShare }).toEqual({
      notes: [],
      durationSeconds: 0,
      clippedShare: 0,
    });
  });

  it("keeps time over ten minutes: sample count and time stamps do not drift apart", () => {
    const listener = new Listener(8000);
    const second = new Float32Array(8000);
    for (let s = 0; s < 600; s++) {
      const last = s === 599;
      listener.push(last ? take(8000, 1, [{ onSeconds: 0.4, offSeconds: 0.8, hz: 440, dbfs: -20 }]) : second);
    }
    const { notes, frames } = listener.finish();
    expect(notes).toHaveLength(1);
    expect(Math.abs((notes[0]?.onSeconds ?? 0) - 599.4)).toBeLessThan(0.01);
    expect(frames.length).toBe(600 / 0.005 + 1); // [calc]
  });

  it("told to forget the frames, hears the same notes, those held longer than it remembers among them", () => {
    const rate = 8000;
    // A drone of 100 s, more than the 82 s of frames it remembers, then a few short notes.
    const samples = take(rate, 106, [
      { onSeconds: 1, offSeconds: 101, hz: 392, dbfs: -20 },
      { onSeconds: 102, offSeconds: 102.2, hz: 440, dbfs: -20 },
      { onSeconds: 103, offSeconds: 103.4, hz: 523.25, dbfs: -26 },
    ]);
    const [all, notesOnly, nothing] = (["everything", "notes", "nothing"] as const).map((keeping) => {
      const listener = new Listener(rate, keeping);
      for (let at = 0; at < samples.length; at += rate) listener.push(samples.subarray(at, at + rate));
      return { live: listener.liveFrame, heard: listener.finish() };
    });
    expect(all?.heard.notes).toHaveLength(3);
    expect(notesOnly?.heard.frames).toEqual([]);
    const times = (listening: typeof all) =>
      listening?.heard.notes.map(({ onSeconds, offSeconds }) => [onSeconds, offSeconds]);
    expect(times(notesOnly)).toEqual(times(all));
    expect(notesOnly?.heard.notes.slice(1)).toEqual(all?.heard.notes.slice(1));
    // 392 Hz is 66.9998 [calc]; a thousandth of a semitone is a tenth of a cent.
    expect(notesOnly?.heard.notes[0]?.pitchMidi).toBeCloseTo(69 + 12 * Math.log2(392 / 440), 3);
    expect(nothing?.heard.notes).toEqual([]);
    expect(nothing?.live).toEqual(all?.live);
  });
});
