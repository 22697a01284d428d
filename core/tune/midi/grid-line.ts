import { TICKS_PER_SEMIBREVE } from "../tune.ts";
import type { GridNote } from "./quantise.ts";

/** A note of the melody, on the grid. */
export interface LineNote {
  readonly startTicks: number;
  readonly lengthTicks: number;
  readonly pitch: number;
  /** Lower first. */
  readonly chord: readonly number[];
  readonly graces: readonly number[];
  /** In crotchets. */
  readonly shift: number;
}

export interface GridLine {
  readonly notes: readonly LineNote[];
  readonly remarks: readonly string[];
}

const CROTCHET = TICKS_PER_SEMIBREVE / 4;

interface OpenNote {
  readonly start: number;
  end: number;
  readonly first: GridNote;
  readonly pitches: number[];
  readonly graces: number[];
  endMeant: boolean;
}

/**
 * One line out of notes on the grid. The highest of those that begin together is the tune's; a note that falls on the same
 * place as a later one is its grace note; a lower one that lies mostly under a sounding note is accompaniment and left out;
 * any other ends where the next begins. A short gap before the next note is how people play, not a rest, unless its end was
 * on the grid.
 */
export function gridLine(notes: readonly GridNote[]): GridLine {
  const line: OpenNote[] = [];
  let below = 0;
  for (const next of notes.toSorted((one, other) => one.start - other.start || one.note.at - other.note.at)) {
    const before = line.at(-1);
    if (before === undefined || next.start >= before.end) {
      line.push(opened(next, []));
    } else if (next.start === before.start) {
      if (next.chordAt === before.first.chordAt) join(before, next);
      else line[line.length - 1] = opened(next, [...before.graces, Math.max(...before.pitches)]);
    } else if (
      next.note.pitch < Math.max(...before.pitches) &&
      before.end - next.start > (next.end - next.start) / 2
    ) {
      below++;
    } else {
      before.end = next.start;
      before.endMeant = true;
      line.push(opened(next, []));
    }
  }
  return { notes: line.map((note, at) => closed(note, line[at + 1])), remarks: remarksOf(below) };
}

const opened = (note: GridNote, graces: number[]): OpenNote => ({
  start: note.start,
  end: note.end,
  first: note,
  pitches: [note.note.pitch],
  graces,
  endMeant: note.endMeant,
});

/** The highest says how long the chord is. */
function join(before: OpenNote, next: GridNote): void {
  const higher = next.note.pitch > Math.max(...before.pitches);
  if (!before.pitches.includes(next.note.pitch)) before.pitches.push(next.note.pitch);
  if (higher) {
    before.end = next.end;
    before.endMeant = next.endMeant;
  }
}

function closed(note: OpenNote, next: OpenNote | undefined): LineNote {
  const room = (next?.start ?? note.end) - note.start;
  const gap = room - (note.end - note.start);
  // A note left off before half of its time was meant to be short.
  const held = !note.endMeant && gap > 0 && gap <= room / 2;
  const pitches = [...note.pitches].sort((one, other) => one - other);
  const startTicks = Math.round(note.start * CROTCHET);
  return {
    startTicks,
    lengthTicks: Math.round((held ? (next?.start ?? note.end) : note.end) * CROTCHET) - startTicks,
    pitch: pitches.at(-1) ?? note.first.note.pitch,
    chord: pitches.slice(0, -1),
    graces: note.graces,
    shift: note.first.shift,
  };
}

const remarksOf = (below: number): readonly string[] =>
  below === 0 ? [] : [`${below} lower notes that sound under the melody are left out`];
