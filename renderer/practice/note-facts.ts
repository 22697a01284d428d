import { holesOf } from "../../core/exercise/exercise.ts";
import { markInWords, shapeInWords } from "../ui/signs.tsx";
import type { Writing } from "../ui/writing.ts";
import type { PlacedNote } from "./placed-notes.ts";

/** Which note it is: "Note 5 of 15 · F#5 · 6 draw". */
export function whichNote({ note }: PlacedNote, count: number, writing: Writing): string {
  return `Note ${note.index + 1} of ${count} · ${calledNote(note, writing)} · ${holesOf(note).join(" ")} ${note.action.breath}`;
}

/** The note, of a chord its name. */
export const calledNote = ({ noteName, chord }: PlacedNote["note"], writing: Writing): string =>
  chord === undefined ? writing.note(noteName) : writing.chord(chord.name);

/** What its mark says, numbers with their units: "right, sharp · +28.3 cents · 12 ms late". */
export function factsOf({ mark }: PlacedNote, spelling: readonly string[], writing: Writing): string {
  const facts = [
    markInWords(mark, spelling),
    centsInWords(mark.cents),
    msInWords(mark.ms),
    ...shapeInWords(mark),
  ];
  return facts
    .filter((words) => words !== null)
    .map(writing.say)
    .join(" · ");
}

function centsInWords(cents: number | null): string | null {
  if (cents === null) return null;
  const text = Math.abs(cents).toFixed(1);
  return Number(text) === 0 ? "0 cents off" : `${text} cents ${cents > 0 ? "sharp" : "flat"}`;
}

function msInWords(ms: number | null): string | null {
  if (ms === null) return null;
  const text = Math.abs(ms).toFixed(0);
  return Number(text) === 0 ? "0 ms off the beat" : `${text} ms ${ms > 0 ? "late" : "early"}`;
}
