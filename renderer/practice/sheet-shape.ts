import type { Exercise } from "../../core/exercise/exercise.ts";
import { type StaffLine, staffLines } from "../../core/exercise/exercise-abc.ts";

/** More notes than this on a line are too small to read from a metre away. */
const MOST_NOTES_PER_LINE = 16;
const MOST_BARS_PER_LINE = 4;

/** The lines of the practice sheet: two to four bars each where the notes leave room. */
export function sheetLines(exercise: Exercise): readonly StaffLine[] {
  const first = exercise.notes[0];
  const notesPerBar = first === undefined ? 1 : exercise.beatsPerBar / first.lengthBeats;
  const bars = Math.floor(MOST_NOTES_PER_LINE / notesPerBar);
  return staffLines(exercise, Math.max(1, Math.min(MOST_BARS_PER_LINE, bars)));
}

/** Index of the note that should sound at a time counted from beat 0, or null outside the exercise. */
export function noteAt(exercise: Exercise, sinceBeatZeroSeconds: number): number | null {
  const beat = (sinceBeatZeroSeconds * exercise.tempo.bpm) / 60;
  const note = exercise.notes.find(
    (one) => beat >= one.startBeats && beat < one.startBeats + one.lengthBeats,
  );
  return note?.index ?? null;
}

/** The notes of the bar a note stands in: from `from` up to but not including `to`. */
export function barOf(exercise: Exercise, index: number): { readonly from: number; readonly to: number } {
  const barNumber = (beat: number) => Math.floor(beat / exercise.beatsPerBar + 1e-9);
  const wanted = barNumber(exercise.notes[index]?.startBeats ?? 0);
  const inBar = exercise.notes.filter((note) => barNumber(note.startBeats) === wanted);
  return { from: inBar[0]?.index ?? 0, to: (inBar.at(-1)?.index ?? -1) + 1 };
}
