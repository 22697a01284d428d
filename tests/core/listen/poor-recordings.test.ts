import { describe, expect, it } from "vitest";
import type { Exercise } from "../../../core/exercise/exercise.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { readWav } from "../../../core/listen/wav.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import { bpm } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";
import { noise, type Tone, take } from "./signals.ts";
import { chunk, fmt, riff } from "./wav-bytes.ts";

/**
 * One and the same playing, four faults planted, recorded in every way a player's machine may record it. All expected numbers
 * come from how the sound is made [calc]: onsets from the beat, pitches from equal temperament, A4 = 440 Hz.
 */
const WRONG = { index: 3, semitones: 3 };
const MISSED = 6;
const FLAT = { index: 9, cents: -30 };
const LATE = { index: 12, ms: 60 };

const slow = exerciseOf({ notesPerBeat: 2 });
/** Quavers of a reel at minim 112: 134 ms. */
const fast = exerciseOf({ tempo: { bpm: bpm(112), noteValue: "1/2" }, notesPerBeat: 4, countInBeats: 2 });

const hzOf = (midi: number) => 440 * 2 ** ((midi - 69) / 12);

function tones(exercise: Exercise): readonly Tone[] {
  const beat = 60 / exercise.tempo.bpm;
  return exercise.notes.flatMap(({ index, startBeats, lengthBeats, midi }) => {
    if (index === MISSED) return [];
    const on = beat * (exercise.countInBeats + startBeats);
    const late = index === LATE.index ? LATE.ms / 1000 : 0;
    const off = index === WRONG.index ? WRONG.semitones : index === FLAT.index ? FLAT.cents / 100 : 0;
    // A reed dies away within 20 ms of `offSeconds`.
    return [
      { onSeconds: on + late, offSeconds: on + beat * lengthBeats - 0.012, hz: hzOf(midi + off), dbfs: -20 },
    ];
  });
}

/** At -20 dBFS. */
function played(exercise: Exercise, rate: number): Float32Array {
  const all = tones(exercise);
  return take(rate, (all.at(-1)?.offSeconds ?? 0) + 0.6, all);
}

/** 2 cents is what the best ears notice; 12 ms about two just noticeable displacements (fact sheet, section 6 [F 34]). */
function expectMarks(exercise: Exercise, samples: Float32Array, rate: number): void {
  const { marks, extras } = scoreTake(exercise, listenToTake(samples, rate));
  expect(extras).toEqual([]);
  expect(marks.map(({ verdict }) => verdict)).toEqual(
    exercise.notes.map(({ index }) =>
      index === WRONG.index ? "wrong" : index === MISSED ? "missed" : "hit",
    ),
  );
  const wrong = exercise.notes[WRONG.index]?.midi ?? Number.NaN;
  expect(marks[WRONG.index]?.heardMidi).toBe(wrong + WRONG.semitones);
  for (const { index, verdict, cents, ms } of marks) {
    if (verdict === "missed") continue;
    expect(Math.abs(Number(ms) - (index === LATE.index ? LATE.ms : 0)), `note ${index}, ms`).toBeLessThan(12);
    if (verdict === "hit")
      expect(
        Math.abs(Number(cents) - (index === FLAT.index ? FLAT.cents : 0)),
        `note ${index}, cents`,
      ).toBeLessThan(2);
  }
}

const speeds = [
  { words: "quavers of 333 ms", exercise: slow },
  { words: "quavers of 134 ms", exercise: fast },
];

describe.each(speeds)("$words give the same marks", ({ exercise }) => {
  const clean = played(exercise, 48_000);

  it.each([44_100, 48_000, 96_000])("at %d samples a second", (rate) => {
    expectMarks(exercise, played(exercise, rate), rate);
  });

  // RMS of the held tone; its peaks stand about 10 dB higher, so -10 fills the file.
  it.each([-50, -40, -30, -20, -10])("at %d dBFS, in a room 40 dB below", (dbfs) => {
    const samples = clean.map((value) => value * 10 ** ((dbfs + 20) / 20));
    const room = noise(samples.length, 10 ** ((dbfs - 40) / 20), 5);
    expectMarks(
      exercise,
      plus(samples, (i) => room[i] ?? 0),
      48_000,
    );
  });

  it("at 0 dBFS peak", () => {
    const peak = clean.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    expectMarks(
      exercise,
      clean.map((value) => value / peak),
      48_000,
    );
  });

  it.each([6, 12, 20])("clipped, %d dB too loud for the file", (decibels) => {
    const gain = 10 ** ((10 + decibels) / 20);
    const clipped = clean.map((value) => Math.max(-1, Math.min(1, gain * value)));
    expect(clipped.filter((value) => Math.abs(value) === 1).length).toBeGreaterThan(1000);
    expectMarks(exercise, clipped, 48_000);
  });

  it.each([-0.3, 0.05, 0.5])("with a constant offset of %d of full scale", (offset) => {
    expectMarks(
      exercise,
      plus(clean, () => offset),
      48_000,
    );
  });

  // Mains hum has the odd harmonics of a saturated transformer; -10 dB against the tone is a bad cable.
  it.each([
    [50, -20],
    [60, -20],
    [50, -10],
    [60, -10],
  ])("with mains hum of %d Hz at %d dB against the notes", (hz, decibels) => {
    const rms = 10 ** ((-20 + decibels) / 20);
    const hum = (i: number) => {
      const turn = (2 * Math.PI * hz * i) / 48_000;
      return rms * Math.SQRT2 * (Math.sin(turn) + 0.3 * Math.sin(3 * turn) + 0.1 * Math.sin(5 * turn));
    };
    expectMarks(exercise, plus(clean, hum), 48_000);
  });

  it.each([
    ["the same in both channels", (x: number) => [x, x]],
    ["one channel silent", (x: number) => [x, 0]],
    ["one channel half as loud", (x: number) => [0.5 * x, x]],
    ["one channel the other upside down, as of a balanced microphone", (x: number) => [x, -x]],
  ])("from a stereo file, %s", (_words, channels) => {
    const read = readWav(stereoFile(clean, 48_000, channels));
    if (read.kind !== "take") throw new Error(read.reason);
    expect(read.channels).toBe(2);
    expectMarks(exercise, read.samples, read.sampleRateHz);
  });
});

describe("a room that hides the notes", () => {
  const clean = played(slow, 48_000);
  const hiss = (dbfs: number) => {
    const room = noise(clean.length, 10 ** (dbfs / 20), 5);
    return clean.map((value, i) => value + (room[i] as number));
  };
  const reasons = (samples: Float32Array) =>
    scoreTake(slow, listenToTake(samples, 48_000)).marks.filter(({ heardMidi }) => heardMidi === null);

  it.each([-20, -14])("as loud as they are (%d dBFS) accuses nobody of missing one", (dbfs) => {
    const unheard = reasons(hiss(dbfs));
    expect(unheard.length).toBeGreaterThan(5);
    for (const { verdict, reason } of unheard) {
      expect(verdict).toBe("not measured");
      expect(reason).toMatch(/room is/);
    }
  });

  it("a note left out in a quiet room, or 20 dB above its noise, is missed", () => {
    for (const samples of [clean, hiss(-40)]) {
      expect(reasons(samples).map(({ index, verdict }) => [index, verdict])).toEqual([[MISSED, "missed"]]);
    }
  });
});

function plus(samples: Float32Array, more: (i: number) => number): Float32Array {
  return samples.map((value, i) => value + more(i));
}

/** 16 bits, the header put together by hand so that the reader is not held against our own writer. */
function stereoFile(
  samples: Float32Array,
  rate: number,
  channels: (x: number) => readonly number[],
): Uint8Array {
  const head = riff(chunk("fmt ", fmt(1, 2, rate, 16)), chunk("data", []));
  const bytes = new Uint8Array(head.length + 4 * samples.length);
  bytes.set(head);
  const view = new DataView(bytes.buffer);
  view.setUint32(4, bytes.length - 8, true);
  view.setUint32(head.length - 4, 4 * samples.length, true);
  samples.forEach((value, i) => {
    channels(value).forEach((x, c) => {
      view.setInt16(head.length + 4 * i + 2 * c, Math.round(32_767 * x), true);
    });
  });
  return bytes;
}
