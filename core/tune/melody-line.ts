import type { WrittenNote } from "./written-bar.ts";

export interface MelodyLine {
  readonly notes: readonly WrittenNote[];
  /** Notes that were cut short, as the next of the melody begins before they end. */
  readonly cut: number;
  /** Lower notes left out, as they begin while a note of the melody sounds. */
  readonly below: number;
}

/**
 * One line out of notes that may sound together: of those that begin together the highest is the melody's, the others its
 * chord. A note ends where the next of the melody begins; a lower one that lies mostly under a sounding note is
 * accompaniment and left out.
 *
 * @param notes in any order; their `chord` is kept
 */
export function melodyLine(notes: readonly WrittenNote[]): MelodyLine {
  const sorted = notes.toSorted((one, other) => one.atTicks - other.atTicks || other.midi - one.midi);
  const line: WrittenNote[] = [];
  let cut = 0;
  let below = 0;
  for (const note of sorted) {
    const before = line.at(-1);
    const end = before === undefined ? 0 : before.atTicks + before.lengthTicks;
    if (before === undefined || note.atTicks >= end) {
      line.push(note);
    } else if (note.atTicks === before.atTicks) {
      line[line.length - 1] = withChord(before, note);
    } else if (note.midi < before.midi && end - note.atTicks > note.lengthTicks / 2) {
      below++;
    } else {
      cut++;
      line[line.length - 1] = { ...before, lengthTicks: note.atTicks - before.atTicks, tiedOn: false };
      line.push(note);
    }
  }
  return { notes: line, cut, below };
}

function withChord(melody: WrittenNote, further: WrittenNote): WrittenNote {
  const all = new Set([...melody.chord, further.midi, ...further.chord]);
  all.delete(melody.midi);
  return { ...melody, chord: [...all].sort((one, other) => one - other) };
}
