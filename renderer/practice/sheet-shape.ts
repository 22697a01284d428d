import { type Exercise, lengthOf } from "../../core/exercise/exercise.ts";
import { type StaffLine, staffLines } from "../../core/exercise/exercise-abc.ts";

/** More notes than this on a line are too small to read from a metre away. */
const MOST_NOTES_PER_LINE = 16;
const MOST_BARS_PER_LINE = 4;
const LINES_IN_SIGHT = 2;
const LARGEST_FOR_TWO = 1.25;

/**
 * The lines of the practice sheet: up to four bars each where the notes leave room.
 *
 * @param textScale how many times its usual size text is: larger notes are fewer on a line
 */
export function sheetLines(exercise: Exercise, textScale = 1): readonly StaffLine[] {
  const most = MOST_NOTES_PER_LINE / textScale;
  for (let bars = MOST_BARS_PER_LINE; bars > 1; bars--) {
    const lines = staffLines(exercise, bars);
    if (lines.every((line) => line.to - line.from <= most)) return lines;
  }
  return staffLines(exercise, 1);
}

/**
 * The line being read and the one after it: more would take the eyes away from the place. Of large ones only the line being
 * read, as two would not fit a window.
 */
export function linesInSight(
  lines: readonly StaffLine[],
  reading: number,
  textScale = 1,
): readonly StaffLine[] {
  const inSight = textScale > LARGEST_FOR_TWO ? 1 : LINES_IN_SIGHT;
  const at = lines.findIndex((line) => reading < line.to);
  const first = Math.max(0, Math.min(at === -1 ? lines.length : at, lines.length - inSight));
  return lines.slice(first, first + inSight);
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

/** Share of a note, 0..1, that has passed `sinceOnsetSeconds` after its onset. */
export function shareOfNote(exercise: Exercise, index: number, sinceOnsetSeconds: number): number {
  const note = exercise.notes[index];
  if (note === undefined) return 0;
  return Math.min(1, Math.max(0, sinceOnsetSeconds / lengthOf(exercise, note)));
}
