import type { Harp } from "../instrument/harp.ts";
import type { Position } from "../instrument/positions.ts";
import type { ReedAction } from "../instrument/reed-actions.ts";
import { midiToHz } from "../pitch/equal-temperament.ts";
import type { ModeName } from "../pitch/modes.ts";
import { type Beats, type Cents, type Hz, type Midi, midi, type Seconds } from "../units.ts";
import { beatsToSeconds, type Tempo } from "./tempo.ts";

export const EXERCISE_SCHEMA = "reedpath.exercise";
export const EXERCISE_VERSION = 1;

/** One note the player is asked for. */
export interface ExpectedNote {
  /** Place in the exercise, from 0. */
  readonly index: number;
  /** Onset counted from beat 0, the first beat after the count-in. */
  readonly startBeats: Beats;
  readonly lengthBeats: Beats;
  readonly midi: Midi;
  /** Where the note should lie against equal temperament on the harp's own A4. */
  readonly targetCents: Cents;
  /** Spelled with octave, "F#4". */
  readonly noteName: string;
  /** Degree of the home note's mode, "b3". */
  readonly degree: string;
  readonly action: ReedAction;
  /** The reed action in tab. */
  readonly tab: string;
}

/** Expected notes on a beat grid: plain data, reproducible from `parameters`. */
export interface Exercise {
  readonly schema: typeof EXERCISE_SCHEMA;
  readonly version: typeof EXERCISE_VERSION;
  readonly kind: "scale";
  readonly title: string;
  /** What this trains, in one sentence. */
  readonly trains: string;
  readonly harp: Harp;
  readonly position: Position;
  /** Home note without octave. */
  readonly home: string;
  readonly mode: ModeName;
  readonly tempo: Tempo;
  readonly beatsPerBar: number;
  readonly countInBeats: Beats;
  /** The choices it was made from; enough to make it again. */
  readonly parameters: Readonly<Record<string, string | number | boolean>>;
  readonly notes: readonly ExpectedNote[];
}

/** Onset of a note in seconds from beat 0. */
export function onsetOf(exercise: Exercise, note: ExpectedNote): Seconds {
  return beatsToSeconds(note.startBeats, exercise.tempo);
}

export function lengthOf(exercise: Exercise, note: ExpectedNote): Seconds {
  return beatsToSeconds(note.lengthBeats, exercise.tempo);
}

export function countInSeconds(exercise: Exercise): Seconds {
  return beatsToSeconds(exercise.countInBeats, exercise.tempo);
}

/** From beat 0 to the end of the last note. */
export function playingSeconds(exercise: Exercise): Seconds {
  const end = exercise.notes.reduce(
    (latest, note) => Math.max(latest, note.startBeats + note.lengthBeats),
    0,
  );
  return beatsToSeconds(end as Beats, exercise.tempo);
}

/** Where a note should sound, as a fractional MIDI number at A4 = 440 Hz: comparable with what was heard. */
export function targetMidi(exercise: Exercise, note: ExpectedNote): Midi {
  const referenceShift = 12 * Math.log2(exercise.harp.a4 / 440);
  return midi(note.midi + note.targetCents / 100 + referenceShift);
}

export function targetHz(exercise: Exercise, note: ExpectedNote): Hz {
  return midiToHz(targetMidi(exercise, note));
}
