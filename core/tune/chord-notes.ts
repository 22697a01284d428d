import { Chord } from "tonal";
import { pitchClass, pitchClassOfName } from "../pitch/note-names.ts";
import { type Midi, midi } from "../units.ts";

/** Chords of the backing lie from here up: below the tune, where a guitar's or an accordion's left hand would be. */
const LOWEST: number = 48;
const OCTAVE = 12;
const MOST_NOTES = 4;

/**
 * The notes a chord symbol sounds in the backing: bass first, from C3 up, at most four.
 *
 * @param symbol as written over the tune, "Am7", "D/F#"
 * @returns nothing for what is no chord: "N.C.", a remark
 */
export function chordNotes(symbol: string): readonly Midi[] {
  const { empty, notes, bass } = Chord.get(symbol.trim());
  if (empty) return [];
  const classes = notes.flatMap((name) => pitchClassOfName(name) ?? []);
  const bassClass = pitchClassOfName(bass);
  const inOrder = bassClass === null ? classes : [bassClass, ...classes.filter((one) => one !== bassClass)];
  let last = LOWEST - 1;
  return inOrder.slice(0, MOST_NOTES).map((one) => {
    const above = last + 1;
    last = above + pitchClass(one - above);
    return midi(last > LOWEST + 2 * OCTAVE ? last - OCTAVE : last);
  });
}
