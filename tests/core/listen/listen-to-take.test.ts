import { describe, expect, it } from "vitest";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { take } from "./signals.ts";

describe("listening to a take", () => {
  it("hears one note where one was played", () => {
    const samples = take(48_000, 1.5, [{ onSeconds: 0.5, offSeconds: 1, hz: 440, dbfs: -20 }]);
    const { notes } = listenToTake(samples, 48_000);
    expect(notes).toHaveLength(1);
    // [calc] 440 Hz is MIDI 69. 1 cent and 15 ms: below what a player can hear.
    expect(Math.abs((notes[0]?.pitchMidi ?? 0) - 69)).toBeLessThan(0.01);
    expect(Math.abs((notes[0]?.onSeconds ?? 0) - 0.5)).toBeLessThan(0.015);
  });

  it("hears nothing in silence", () => {
    expect(listenToTake(new Float32Array(48_000), 48_000).notes).toEqual([]);
  });
});
