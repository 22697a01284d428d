import { expect, it } from "vitest";
import { toListenJson } from "../../../core/listen/listen-json.ts";
import type { Listening } from "../../../core/listen/listening.ts";
import { cents, dbfs, hz, midi, seconds } from "../../../core/units.ts";

const frame = { clarity: 0.5, levelDbfs: dbfs(-20) };
const note = { levelDbfs: dbfs(-20), settledSeconds: seconds(0.1), spreadCents: cents(0.2), leak: null };
const listening: Listening = {
  sampleRateHz: hz(48_000),
  durationSeconds: seconds(1),
  frames: [
    { ...frame, atSeconds: seconds(0), pitchHz: null, voiced: false },
    { ...frame, atSeconds: seconds(0.005), pitchHz: hz(440), voiced: false },
    { ...frame, atSeconds: seconds(0.01), pitchHz: hz(440.25), voiced: true },
  ],
  notes: [
    {
      ...note,
      onSeconds: seconds(0.1),
      offSeconds: seconds(0.2),
      pitchMidi: midi(69.0312),
      unreadable: null,
    },
    {
      ...note,
      onSeconds: seconds(0.3),
      offSeconds: seconds(0.4),
      pitchMidi: midi(59.9),
      unreadable: null,
      leak: { pitchMidi: midi(64.07), levelDb: -12.346 },
    },
    { ...note, onSeconds: seconds(0.5), offSeconds: seconds(0.52), pitchMidi: null, unreadable: "too short" },
  ],
  latencySeconds: seconds(0.0263),
  peakDbfs: dbfs(-3),
  noiseFloorDbfs: dbfs(-60),
  clippedShare: 0,
};

it("the printed form marks no estimate by 0 and an unvoiced one by its sign, as MIREX and mir_eval do", () => {
  expect(toListenJson(listening).frames).toEqual([
    { t: 0, f0: 0, clarity: 0.5 },
    { t: 0.005, f0: -440, clarity: 0.5 },
    { t: 0.01, f0: 440.25, clarity: 0.5 },
  ]);
});

it("the printed form gives the nearest note and the cents from it, 0 for a note without a pitch, and the second reed", () => {
  // [calc] 69.0312 = 69 + 3.12 cents; 59.9 = 60 - 10 cents
  expect(toListenJson(listening).notes).toEqual([
    { on: 0.1, off: 0.2, midi: 69, cents: 3.12, leak: null },
    { on: 0.3, off: 0.4, midi: 60, cents: -10, leak: { midi: 64, db: -12.35 } },
    { on: 0.5, off: 0.52, midi: 0, cents: 0, leak: null },
  ]);
  expect(toListenJson(listening).latencyMs).toBe(26.3);
});
