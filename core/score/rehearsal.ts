import { type Exercise, type ExpectedNote, lengthOf, onsetOf, targetMidi } from "../exercise/exercise.ts";
import type { Frame, HeardNote, Listening } from "../listen/listening.ts";
import { midiToHz } from "../pitch/equal-temperament.ts";
import { cents, type Dbfs, dbfs, type Hz, hz, midi, seconds } from "../units.ts";
import type { Attempt } from "./attempt.ts";
import { scoreTake, USUAL_SETTINGS } from "./score-take.ts";

/** Enough notes for several faults of each kind, few enough to be marked in some hundredths of a second at first. */
const REHEARSED_NOTES = 48;
/** After so many rehearsals marking runs about as fast as it will: measured, the first marks take half as long. */
export const REHEARSALS = 20;
const HOP_SECONDS = 0.005;
const ROOM_DBFS = dbfs(-70);
/** Faults of the made-up player, each at every so manieth note. */
const MISSED = 9;
const ANOTHER_REED = 7;
const LATE = 5;
const OFF = 4;

/**
 * Marks a made-up take of an exercise's first notes, with a few faults. A program runs slowly the first times through, and
 * a player should not wait for that after a take: so it is done before, `REHEARSALS` times, and the marks thrown away.
 */
export function rehearseMarking(exercise: Exercise): Attempt {
  const part = { ...exercise, notes: exercise.notes.slice(0, REHEARSED_NOTES) };
  return scoreTake(part, listeningTo(part), { ...USUAL_SETTINGS, beatZeroSeconds: seconds(0) });
}

/** What would have been heard; beat 0 lies at the first sample. */
function listeningTo(exercise: Exercise): Listening {
  const notes = exercise.notes.flatMap((note) => heard(exercise, note));
  return {
    sampleRateHz: hz(48_000),
    durationSeconds: seconds(notes.at(-1)?.offSeconds ?? 0),
    frames: framesOf(notes),
    notes,
    latencySeconds: seconds(0),
    peakDbfs: dbfs(-10),
    noiseFloorDbfs: ROOM_DBFS,
    clippedShare: 0,
  };
}

function heard(exercise: Exercise, note: ExpectedNote): readonly HeardNote[] {
  const every = (nth: number) => note.index % nth === nth - 1;
  if (every(MISSED)) return [];
  const pitch = targetMidi(exercise, note) + (every(ANOTHER_REED) ? 2 : 0) + (every(OFF) ? 0.3 : 0.03);
  const on = onsetOf(exercise, note) + (every(LATE) ? 0.06 : 0.005);
  const length = 0.9 * lengthOf(exercise, note);
  return [
    {
      onSeconds: seconds(on),
      offSeconds: seconds(on + length),
      pitchMidi: midi(pitch),
      spreadCents: cents(1),
      settledSeconds: seconds(length / 2),
      levelDbfs: dbfs(-20),
      unreadable: null,
      leak: null,
    },
  ];
}

function framesOf(notes: readonly HeardNote[]): readonly Frame[] {
  const frames: Frame[] = [];
  for (const { onSeconds, offSeconds, pitchMidi, levelDbfs } of notes) {
    const pitchHz = pitchMidi === null ? null : midiToHz(pitchMidi);
    while (frames.length * HOP_SECONDS < onSeconds) frames.push(frameOf(frames.length, null, ROOM_DBFS));
    while (frames.length * HOP_SECONDS < offSeconds) frames.push(frameOf(frames.length, pitchHz, levelDbfs));
  }
  return frames;
}

const frameOf = (place: number, pitchHz: Hz | null, levelDbfs: Dbfs): Frame => ({
  atSeconds: seconds(place * HOP_SECONDS),
  pitchHz,
  voiced: pitchHz !== null,
  clarity: pitchHz === null ? 0 : 0.9,
  levelDbfs,
});
