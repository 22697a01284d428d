import { Chord, Note } from "tonal";
import { type ExpectedNote, holesOf } from "../../core/exercise/exercise.ts";
import { type Harp, reedNote } from "../../core/instrument/harp.ts";

/** Pitch classes of a chord symbol, as tonal 6.4.3 has them [X]. */
export const chordNotes = (symbol: string): readonly number[] =>
  Chord.get(symbol).notes.map((name) => Note.chroma(name) ?? Number.NaN);

/** The reeds a note asks for, as the layout has them. */
export function reedsAt(harp: Harp, note: ExpectedNote) {
  return holesOf(note).map((hole) => {
    const midi = reedNote(harp, hole, note.action.breath);
    if (midi === null) throw new Error(`hole ${hole} has no reed there`);
    return { midi, breath: note.action.breath };
  });
}
