import { bpm } from "../units.ts";
import type { Exercise } from "./exercise.ts";
import { SHORTEST_NOTE_SECONDS } from "./rhythm.ts";
import { FASTEST, SLOWEST } from "./tempo.ts";

/**
 * The same exercise slower or faster, held to what a tempo may be and to notes long enough to be marked.
 *
 * @param step beats a minute to add, negative for slower
 */
export function changeTempo(exercise: Exercise, step: number): Exercise {
  const shortest = Math.min(...exercise.notes.map((note) => note.lengthBeats));
  const fastest = Math.min(FASTEST, Math.floor((60 * shortest) / SHORTEST_NOTE_SECONDS + 1e-9));
  const wanted = Math.max(SLOWEST, Math.min(fastest, exercise.tempo.bpm + step));
  return { ...exercise, tempo: { ...exercise.tempo, bpm: bpm(wanted) } };
}
