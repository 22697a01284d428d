import { beats } from "../units.ts";
import type { Exercise } from "./exercise.ts";

/**
 * Notes `from` to `to` of an exercise, both counted in, beginning at beat 0. They keep their indexes; chords and what is
 * called out before a note are left out.
 *
 * @param speed 0.5 is half the tempo
 */
export function passageOf(exercise: Exercise, from: number, to: number, speed = 1): Exercise {
  const { chords: _, targetAs: __, ...rest } = exercise;
  const startBeats = exercise.notes[from]?.startBeats ?? 0;
  const notes = exercise.notes.slice(from, to + 1).map(({ calledAtBeats: _called, ...note }) => ({
    ...note,
    startBeats: beats(note.startBeats - startBeats),
  }));
  const tempo = { ...exercise.tempo, bpm: (exercise.tempo.bpm * speed) as typeof exercise.tempo.bpm };
  return { ...rest, tempo, notes };
}
