import { signatureMode, spellMode } from "../pitch/modes.ts";
import type { Exercise, ExpectedNote } from "./exercise.ts";
import { semibreves } from "./tempo.ts";

/** ABC 2.1 mode words after the key, so that the signature is the mode's own, or that of the mode it is a part of. */
const MODE_WORDS: Readonly<Record<ReturnType<typeof signatureMode>, string>> = {
  major: "",
  dorian: "dor",
  phrygian: "phr",
  lydian: "lyd",
  mixolydian: "mix",
  minor: "min",
  locrian: "loc",
};

/** Notes are written in 64ths of a semibreve: fine enough for quarters of every beat a tempo counts, dotted ones too. */
const UNITS_PER_SEMIBREVE = 64;
/** Three notes in the time of two, where a third of the beat is no note value of its own. */
const TRIPLET_STRETCH = 3 / 2;

/** One line of music: the notes from `from` up to but not including `to`. */
export interface StaffLine {
  readonly from: number;
  readonly to: number;
  /** A whole ABC tune of this line alone; the first line carries the metre. */
  readonly abc: string;
}

/**
 * An exercise as lines of music for drawing on a staff.
 *
 * @param barsPerLine bars before a line ends, >= 1
 */
export function staffLines(exercise: Exercise, barsPerLine: number): readonly StaffLine[] {
  const beatsPerLine = barsPerLine * exercise.beatsPerBar;
  const lineOf = (note: ExpectedNote) => Math.floor(note.startBeats / beatsPerLine + 1e-9);
  const last = exercise.notes.at(-1);
  const count = last === undefined ? 0 : lineOf(last) + 1;
  return Array.from({ length: count }, (_, line) => {
    const notes = exercise.notes.filter((note) => lineOf(note) === line);
    const from = notes[0]?.index ?? 0;
    const header = line === 0 ? abcHeader(exercise, true) : abcHeader(exercise, false);
    return { from, to: from + notes.length, abc: `${header}\n${abcBody(exercise, notes)}` };
  }).filter((line) => line.to > line.from);
}

/** An exercise as one ABC 2.1 tune, written in the mode's own key signature. */
export function exerciseToAbc(exercise: Exercise): string {
  return `${abcHeader(exercise, true)}\n${abcBody(exercise, exercise.notes)}`;
}

/** The metre as written: 4 beats of a crotchet are 4/4, 2 of a dotted crotchet 6/8. */
export function meterOf(exercise: Exercise): readonly [number, number] {
  const [top, bottom] = exercise.tempo.noteValue.split("/").map(Number);
  return [exercise.beatsPerBar * (top ?? 1), bottom ?? 4];
}

function abcHeader(exercise: Exercise, withMeter: boolean): string {
  const [top, bottom] = meterOf(exercise);
  const meter = withMeter ? [`M:${top}/${bottom}`] : ["M:none"];
  return [
    "X:1",
    ...meter,
    `L:1/${UNITS_PER_SEMIBREVE}`,
    `K:${exercise.home}${MODE_WORDS[signatureMode(exercise.mode)]}`,
  ].join("\n");
}

function abcBody(exercise: Exercise, notes: readonly ExpectedNote[]): string {
  const unit = semibreves(exercise.tempo.noteValue) * UNITS_PER_SEMIBREVE;
  const last = exercise.notes.length - 1;
  const written = writtenAccidentals(exercise);
  const body = notes.map((note) => {
    const units = note.lengthBeats * unit;
    const inTriplet = !isWhole(units);
    const mark = inTriplet && isWhole(note.startBeats) ? tripletMark(exercise.notes.length - note.index) : "";
    const abc = mark + abcNote(note, written) + abcLength(inTriplet ? units * TRIPLET_STRETCH : units);
    const end = note.startBeats + note.lengthBeats;
    if (note.index === last) return `${abc} |]`;
    if (isWhole(end / exercise.beatsPerBar)) return `${abc} | `;
    return abc + (isWhole(end) ? " " : "");
  });
  return body.join("").trimEnd();
}

/** The last group of a line may hold fewer than three notes; ABC 2.1 then wants the count. */
const tripletMark = (notesLeft: number) => (notesLeft >= 3 ? "(3" : `(3:2:${notesLeft}`);

const isWhole = (value: number) => Math.abs(value - Math.round(value)) < 1e-6;

const NOTE_NAME = /^([A-G])(#{0,2}|b{0,2})(-?\d+)$/;
const ABC_ACCIDENTALS: Readonly<Record<string, string>> = { "": "=", "#": "^", "##": "^^", b: "_", bb: "__" };

/**
 * Names without octave that need an accidental of their own: those outside the signature (the seventh of harmonic
 * minor), and every form of a letter used in two forms (the fifths of the blues), for an accidental holds to the bar line.
 */
function writtenAccidentals(exercise: Exercise): ReadonlySet<string> {
  const signature = new Set(spellMode(exercise.home, signatureMode(exercise.mode)));
  const used = [...new Set(exercise.notes.map((note) => note.noteName.replace(/-?\d+$/, "")))];
  const twoForms = (name: string) =>
    used.some((other) => other !== name && other.charAt(0) === name.charAt(0));
  return new Set(used.filter((name) => !signature.has(name) || twoForms(name)));
}

function abcNote(note: ExpectedNote, written: ReadonlySet<string>): string {
  const match = NOTE_NAME.exec(note.noteName);
  if (match === null)
    throw new RangeError(`note ${note.index} has no name a staff can show: "${note.noteName}"`);
  const [, letter = "C", sign = "", octaveText = "4"] = match;
  const accidental = written.has(letter + sign) ? (ABC_ACCIDENTALS[sign] ?? "") : "";
  const octave = Number(octaveText);
  if (octave >= 5) return accidental + letter.toLowerCase() + "'".repeat(octave - 5);
  return accidental + letter + ",".repeat(4 - octave);
}

function abcLength(units: number): string {
  const whole = Math.round(units);
  return whole === 1 ? "" : String(whole);
}
