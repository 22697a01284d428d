import { type Exercise, type ExpectedNote, holesOf } from "../exercise/exercise.ts";
import type { ReedAction } from "../instrument/reed-actions.ts";
import { actionInWords, chordTab } from "../instrument/tab.ts";
import { spellingOf } from "../pitch/modes.ts";
import { noteName } from "../pitch/note-names.ts";
import type { Attempt, Diagnosis, ExtraNote, Mark } from "./attempt.ts";
import type { Field } from "./csv.ts";
import { slipInWords } from "./slip-words.ts";

/** One column: its heading, with the unit, and what it says of a note asked for and of one too many. */
interface Column {
  readonly heading: string;
  readonly ofMark: (mark: Mark, context: Context) => Field;
  readonly ofExtra: (extra: ExtraNote, context: Context) => Field;
}

interface Context {
  readonly exercise: Exercise;
  readonly spelling: readonly string[];
}

const nothing = () => null;
const rounded = (value: number | null, per: number): number | null =>
  value === null ? null : Math.round(value * per) / per + 0;
const tenths = (value: number | null) => rounded(value, 10);
const thousandths = (value: number | null) => rounded(value, 1000);
const slip = (diagnosis: Diagnosis | null): Field => (diagnosis === null ? null : slipInWords(diagnosis));

const COLUMNS: readonly Column[] = [
  { heading: "note", ofMark: (mark) => mark.index + 1, ofExtra: nothing },
  { heading: "bar", ofMark: barOf, ofExtra: nothing },
  { heading: "beat", ofMark: beatOf, ofExtra: nothing },
  {
    heading: "asked",
    ofMark: ({ index }, { exercise }) => askedOf(exercise.notes[index]),
    ofExtra: nothing,
  },
  {
    heading: "reed",
    ofMark: ({ index, action }, { exercise }) => reedsOf(exercise.notes[index], action),
    ofExtra: nothing,
  },
  {
    heading: "mark",
    ofMark: ({ verdict }) => (verdict === "hit" ? "right" : verdict),
    ofExtra: () => "too many",
  },
  {
    heading: "heard",
    ofMark: heardOf,
    ofExtra: ({ heardMidi }, { spelling }) => noteName(heardMidi, spelling),
  },
  { heading: "off target (cents; sharp +)", ofMark: ({ cents }) => tenths(cents), ofExtra: nothing },
  {
    heading: "the reed's own, taken off (cents; sharp +)",
    ofMark: ({ reedCents }) => tenths(reedCents),
    ofExtra: nothing,
  },
  { heading: "intonation", ofMark: ({ intonation }) => intonation, ofExtra: nothing },
  { heading: "off beat (ms; late +)", ofMark: ({ ms }) => tenths(ms), ofExtra: nothing },
  { heading: "timing", ofMark: ({ timing }) => timing, ofExtra: nothing },
  { heading: "timed from", ofMark: ({ msFrom }) => msFrom, ofExtra: nothing },
  {
    heading: "begins (s in the take)",
    ofMark: ({ onSeconds }) => thousandths(onSeconds),
    ofExtra: ({ onSeconds }) => thousandths(onSeconds),
  },
  {
    heading: "ends (s in the take)",
    ofMark: ({ offSeconds }) => thousandths(offSeconds),
    ofExtra: ({ offSeconds }) => thousandths(offSeconds),
  },
  {
    heading: "slip",
    ofMark: ({ diagnosis }) => slip(diagnosis),
    ofExtra: ({ diagnosis }) => slip(diagnosis),
  },
  { heading: "reason", ofMark: ({ reason }) => reason, ofExtra: nothing },
];

export const MARK_HEADINGS: readonly string[] = COLUMNS.map((column) => column.heading);

/**
 * The marks as a table for other programs: a heading row with units, a row for each note asked for, and after each those
 * too many that were heard behind it. Cents and milliseconds to a tenth, seconds to a thousandth; what does not apply is
 * null.
 */
export function marksTable(exercise: Exercise, attempt: Attempt): readonly (readonly Field[])[] {
  const context = { exercise, spelling: spellingOf(exercise.home, exercise.mode) };
  const tooMany = (afterIndex: number) =>
    attempt.extras
      .filter((extra) => extra.afterIndex === afterIndex)
      .map((extra) => COLUMNS.map((column) => column.ofExtra(extra, context)));
  return [
    MARK_HEADINGS,
    ...tooMany(-1),
    ...attempt.marks.flatMap((mark) => [
      COLUMNS.map((column) => column.ofMark(mark, context)),
      ...tooMany(mark.index),
    ]),
  ];
}

/** The note, of a chord its name. */
const askedOf = (note: ExpectedNote | undefined): Field => note?.chord?.name ?? note?.noteName ?? null;

/** The reed in words, of a chord all holes: "2 3 4 draw". */
function reedsOf(note: ExpectedNote | undefined, action: ReedAction): Field {
  if (note?.chord === undefined) return actionInWords(action);
  return chordTab(action.breath, holesOf(note), "words");
}

/** The note heard, of a chord the holes that surely sounded. */
function heardOf({ heardMidi, chord }: Mark, { spelling }: Context): Field {
  if (chord !== undefined) return chord.breath === null ? null : chordTab(chord.breath, chord.holes, "words");
  return heardMidi === null ? null : noteName(heardMidi, spelling);
}

/** Bars count from 1; an upbeat is the first. */
function barOf({ index }: Mark, { exercise }: Context): Field {
  const start = exercise.notes[index]?.startBeats;
  return start === undefined ? null : Math.floor(start / exercise.beatsPerBar + 1e-9) + 1;
}

function beatOf({ index }: Mark, { exercise }: Context): Field {
  const start = exercise.notes[index]?.startBeats;
  if (start === undefined) return null;
  const bar = Math.floor(start / exercise.beatsPerBar + 1e-9);
  return thousandths(start - bar * exercise.beatsPerBar + 1);
}
