import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { type Exercise, onsetOf, playingSeconds, targetMidi } from "../../core/exercise/exercise.ts";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { beats, bpm } from "../../core/units.ts";
import type { Beat } from "../../renderer/audio/beat-sound.ts";
import type { ReferenceOptions } from "../../renderer/audio/reference.ts";
import { exerciseOf } from "../support/drills.ts";
import { harp } from "../support/harps.ts";
import { type AudioRoom, buildAudioRoom, medianOf, peakOf, samplesOf } from "./audio-room.ts";
import { chromiumPath, whyNoBrowser } from "./browser.ts";

let room: AudioRoom;
beforeAll(async () => {
  if (chromiumPath !== null) room = await buildAudioRoom();
});
afterEach(async () => room?.closePage());
afterAll(async () => room?.close());

type Sounds = Pick<ReferenceOptions, "notes" | "metronome" | "countIn" | "backing">;

interface Heard {
  /** Beat 0, seconds from the first sample. */
  readonly beatZero: number;
  readonly rate: number;
  readonly samples: Float32Array;
  /** Each call with the time it came, seconds from beat 0. */
  readonly beats: readonly (readonly [beat: number, at: number])[];
  readonly notes: readonly (readonly [index: number | null, at: number])[];
  readonly ends: readonly number[];
  /** When stop() was called, seconds from the first sample; null if it was not. */
  readonly stoppedAt: number | null;
  readonly complaints: readonly string[];
}

/** Plays an exercise in the page and hears all that went to the loudspeaker. */
async function hear(
  exercise: Exercise,
  sounds: Sounds,
  changes: { stopAfter?: number; loudnessDb?: number; beat?: Beat } = {},
) {
  const { page, complaints } = await room.open();
  const heard = await page.evaluate(
    async ({ exerciseJson, sounds, stopAfter, loudnessDb, beat, seconds }) => {
      const exercise = JSON.parse(exerciseJson) as Exercise;
      const { audioRoom: room } = globalThis;
      if (loudnessDb !== undefined) room.setLoudness(loudnessDb);
      if (beat !== undefined) room.setBeat(beat);
      const { context } = room.soundContext();
      const tap = await room.tapOutput();
      const beats: [number, number][] = [];
      const notes: [number | null, number][] = [];
      const ends: number[] = [];
      const sounding = await room.createReference().play(exercise, {
        ...sounds,
        onBeat: (beat) => beats.push([beat, context.currentTime]),
        onNote: (index) => notes.push([index, context.currentTime]),
        onEnd: () => ends.push(context.currentTime),
      });
      let stoppedAt: number | null = null;
      if (stopAfter !== undefined) {
        await room.wait(stopAfter);
        stoppedAt = context.currentTime;
        sounding.stop();
        sounding.stop();
      }
      while (context.currentTime < sounding.beatZeroSeconds + seconds) await room.wait(0.05);
      return {
        ...(await tap.end()),
        beatZeroSeconds: sounding.beatZeroSeconds,
        beats,
        notes,
        ends,
        stoppedAt,
      };
    },
    { exerciseJson: JSON.stringify(exercise), sounds, ...changes, seconds: playingSeconds(exercise) + 0.5 },
  );
  const { beatZeroSeconds, firstSampleSeconds } = heard;
  expect(heard.lostSamples).toBe(0);
  const result: Heard = {
    beatZero: beatZeroSeconds - firstSampleSeconds,
    rate: heard.sampleRateHz,
    samples: samplesOf(heard.samples),
    beats: heard.beats.map(([beat, at]) => [beat, at - beatZeroSeconds]),
    notes: heard.notes.map(([index, at]) => [index, at - beatZeroSeconds]),
    ends: heard.ends.map((at) => at - beatZeroSeconds),
    stoppedAt: heard.stoppedAt === null ? null : heard.stoppedAt - firstSampleSeconds,
    complaints,
  };
  return result;
}

/** Onsets in seconds of sounds that follow at least 50 ms of quiet, with the peak of their first 30 ms. */
function clicks(samples: Float32Array, rate: number): { at: number; peak: number }[] {
  const found: { at: number; peak: number }[] = [];
  let last = Number.NEGATIVE_INFINITY;
  samples.forEach((sample, i) => {
    if (Math.abs(sample) < 0.001) return;
    if (i - last > 0.05 * rate)
      found.push({ at: i / rate, peak: peakOf(samples.subarray(i, i + 0.03 * rate)) });
    last = i;
  });
  return found;
}

/** One octave, two notes a beat: 15 notes in 8 beats of 4/4 after one bar of count-in. */
const exercise = exerciseOf({ tempo: { bpm: bpm(150), noteValue: "1/4" } });
const beatSeconds = 60 / 150; // [calc]
const beatCount = Math.ceil(playingSeconds(exercise) / beatSeconds - 1e-9);
const ALL_BEATS = Array.from(
  { length: exercise.countInBeats + beatCount },
  (_, i) => i - exercise.countInBeats,
);

describe.skipIf(chromiumPath === null)(`the reference in a real browser${whyNoBrowser}`, () => {
  test("every beat of count-in and exercise sounds on the clock under the production policy, the first of a bar louder", async () => {
    const heard = await hear(exercise, { notes: false, metronome: "all", countIn: true });
    expect(heard.complaints).toEqual([]);
    const found = clicks(heard.samples, heard.rate);
    const beatOf = (at: number) => Math.round((at - heard.beatZero) / beatSeconds);
    expect(found.map(({ at }) => beatOf(at))).toEqual(ALL_BEATS);
    found.forEach(({ at, peak }, place) => {
      const beat = ALL_BEATS[place] ?? Number.NaN;
      // 2 ms: the click rises within one, a player hears nothing below 5.
      expect(Math.abs(at - heard.beatZero - beat * beatSeconds)).toBeLessThan(0.002);
      const isFirst = beat % exercise.beatsPerBar === 0;
      expect(peak > 0.8 * peakOf(heard.samples)).toBe(isFirst);
    });
  });

  test.each(["wood", "tone"] as const)(
    "a beat that is a %s comes on the clock, alike where the first of a bar is not stressed, and is over at once",
    async (sound) => {
      const short = { ...exercise, notes: exercise.notes.slice(0, 3) };
      const options = { notes: false, metronome: "all", countIn: true } as const;
      const beat = { sound, stressed: false };
      const heard = await hear(short, options, { beat, loudnessDb: 0 });
      const found = clicks(heard.samples, heard.rate);
      expect(found.length).toBe(short.countInBeats + 3); // [calc] three notes of a beat each
      found.forEach(({ at, peak }, place) => {
        const due = heard.beatZero + (place - short.countInBeats) * beatSeconds;
        // 5 ms: a player hears nothing below it.
        expect(Math.abs(at - due)).toBeLessThan(0.005);
        expect(peak / peakOf(heard.samples)).toBeGreaterThan(0.9);
      });
      expect(peakOf(heard.samples)).toBeLessThan(1);
      // What a microphone catches of it is an ornament at most, as the marks have it: 75 ms.
      const { notes } = listenToTake(heard.samples, heard.rate);
      expect(notes.filter((note) => note.offSeconds - note.onSeconds > 0.075)).toEqual([]);
      expect(heard.complaints).toEqual([]);
    },
  );

  test("the picture is told every beat and note in order and in step with the sound, and the end once", async () => {
    const heard = await hear(exercise, { notes: true, metronome: "all", countIn: true });
    expect(heard.beats.map(([beat]) => beat)).toEqual(ALL_BEATS);
    expect(heard.notes.map(([index]) => index)).toEqual([...exercise.notes.map((note) => note.index), null]);
    expect(heard.ends).toHaveLength(1);
    const late = heard.beats.map(([beat, at]) => at - beat * beatSeconds);
    for (const ms of late) expect(ms).toBeGreaterThanOrEqual(0); // never before the sound
    // [P] picture and sound seem together within about 80 ms; the median, as this machine is shared.
    expect(medianOf(late)).toBeLessThan(0.08);
  });

  test("with the count-in only, the metronome falls silent at the first beat while the picture goes on", async () => {
    const heard = await hear(exercise, { notes: false, metronome: "count-in", countIn: true });
    expect(clicks(heard.samples, heard.rate)).toHaveLength(exercise.countInBeats);
    expect(heard.beats).toHaveLength(exercise.countInBeats + beatCount);
  });

  test.each([440, 443])(
    "each note of the reference is within 3 cents of its target, A4 = %d Hz",
    async (a4) => {
      const tuned = exerciseOf({ harp: harp("G", a4), tempo: { bpm: bpm(150), noteValue: "1/4" } });
      const heard = await hear(tuned, { notes: true, metronome: "none", countIn: false });
      const { notes } = listenToTake(heard.samples, heard.rate);
      expect(notes.map((note) => Math.round(note.pitchMidi ?? 0))).toEqual(
        tuned.notes.map((note) => note.midi),
      );
      tuned.notes.forEach((expected, place) => {
        const note = notes[place];
        if (note === undefined || note.pitchMidi === null) throw new Error(`note ${place} was not read`);
        // 3 cents: what a trained ear just tells apart.
        expect(Math.abs(100 * (note.pitchMidi - targetMidi(tuned, expected)))).toBeLessThan(3);
        // 15 ms: the attack of the voice takes 20.
        expect(Math.abs(note.onSeconds - heard.beatZero - onsetOf(tuned, expected))).toBeLessThan(0.015);
      });
      expect(heard.complaints).toEqual([]);
    },
  );

  test("the chords of a tune sound under its notes, on each beat, and all stays within full scale", async () => {
    const chords = [{ startBeats: beats(0), symbol: "D7" }];
    const short = { ...exercise, notes: exercise.notes.slice(0, 3), chords };
    const options = { metronome: "none", countIn: false, notes: false } as const;
    const alone = await hear(short, options, { loudnessDb: 0 });
    expect(peakOf(alone.samples)).toBe(0);
    const under = await hear(short, { ...options, backing: true }, { loudnessDb: 0 });
    const levels = [0, 1, 2].map((beat) => {
      const at = under.beatZero + (beat * 60) / short.tempo.bpm;
      return peakOf(under.samples.subarray((at + 0.05) * under.rate, (at + 0.2) * under.rate));
    });
    for (const level of levels) expect(level).toBeGreaterThan(0.02);
    const all = await hear(
      short,
      { notes: true, metronome: "all", countIn: false, backing: true },
      { loudnessDb: 0 },
    );
    expect(peakOf(all.samples)).toBeLessThanOrEqual(1);
    expect(peakOf(all.samples)).toBeGreaterThan(Math.max(...levels));
    expect(all.complaints).toEqual([]);
  });

  test("stop silences notes and beats within 50 ms, for good, also when asked twice", async () => {
    const heard = await hear(exercise, { notes: true, metronome: "all", countIn: false }, { stopAfter: 1.3 });
    const stop = Math.round((heard.stoppedAt ?? 0) * heard.rate);
    const before = peakOf(heard.samples.subarray(stop - 0.5 * heard.rate, stop));
    expect(before).toBeGreaterThan(0.01); // it did sound
    const after = heard.samples.subarray(stop + 0.05 * heard.rate);
    expect(after.length).toBeGreaterThan(heard.rate);
    expect(peakOf(after)).toBeLessThan(before / 10_000); // [calc] 80 dB down
    const told = [...heard.beats, ...heard.notes].map(([, at]) => at + heard.beatZero);
    expect(Math.max(...told)).toBeLessThanOrEqual((heard.stoppedAt ?? 0) + 0.001);
    expect(heard.ends).toEqual([]);
    expect(heard.complaints).toEqual([]);
  });

  test.each([
    ["at first it is quiet", undefined, -18],
    ["asked for more than full scale, it stays within", 20, 0],
    ["turned down it is quieter", -40, -40],
  ])("%s", async (_, loudnessDb, highestDbfs) => {
    const short = { ...exercise, notes: exercise.notes.slice(0, 3) };
    const heard = await hear(
      short,
      { notes: true, metronome: "all", countIn: false },
      loudnessDb === undefined ? {} : { loudnessDb },
    );
    const peak = peakOf(heard.samples);
    expect(peak).toBeLessThanOrEqual(10 ** (highestDbfs / 20));
    // [calc] reed and click reach about half of that each; together never less than a quarter.
    expect(peak).toBeGreaterThan(10 ** (highestDbfs / 20) / 4);
  });
});
