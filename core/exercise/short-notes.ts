import { type Exercise, lengthOf } from "./exercise.ts";
import { SHORTEST_NOTE_SECONDS } from "./rhythm.ts";

const LEAST_MS = 1000 * SHORTEST_NOTE_SECONDS;

/**
 * Notes too short to be heard for certain, in one sentence; null where there are none. A tune is written as it is: its quick
 * notes stand, and what cannot be shown of them is said.
 */
export function shortNotesInWords(exercise: Exercise): string | null {
  const lengths = exercise.notes.map((note) => lengthOf(exercise, note));
  const short = lengths.filter(isTooShort);
  if (short.length === 0) return null;
  const shortest = Math.round(1000 * Math.min(...short));
  const what = short.length === 1 ? "1 note lasts" : `${short.length} notes last`;
  const least = short.length === 1 ? `${shortest} ms` : `less than ${LEAST_MS} ms (the shortest ${shortest})`;
  return `${what} ${least} at this tempo: where one is not heard, it counts as not measured.`;
}

/** Whether a note that lasts so long may be played and not be heard. */
export const isTooShort = (lengthSeconds: number): boolean => lengthSeconds < SHORTEST_NOTE_SECONDS - 1e-9;

/** An exercise with its short notes told behind what it trains. */
export function withShortNotesTold(exercise: Exercise): Exercise {
  const words = shortNotesInWords(exercise);
  return words === null ? exercise : { ...exercise, trains: `${exercise.trains} ${words}` };
}

/** The exercise it was before its short notes were told. */
export function withoutShortNotesTold(exercise: Exercise): Exercise {
  const words = shortNotesInWords(exercise);
  if (words === null || !exercise.trains.endsWith(` ${words}`)) return exercise;
  return { ...exercise, trains: exercise.trains.slice(0, -words.length - 1) };
}
