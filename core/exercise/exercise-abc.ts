import { pitchClassOfName } from "../pitch/note-names.ts";
import type { Exercise, ExpectedNote } from "./exercise.ts";
import { semibreves } from "./tempo.ts";

/** ABC 2.1 mode words after the key, so that the signature is the mode's own. */
const MODE_WORDS: Readonly<Record<Exercise["mode"], string>> = {
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

/**
 * An exercise as an ABC 2.1 tune, for drawing on a staff. Written in the mode's own key signature; every note that
 * differs from it carries its accidental.
 *
 * @param barsPerLine bars before a line break, >= 1
 */
export function exerciseToAbc(exercise: Exercise, barsPerLine: number): string {
  const unit = semibreves(exercise.tempo.noteValue);
  const bar = exercise.beatsPerBar;
  const signature = signatureOf(exercise);
  const body = exercise.notes.map((note, place) => {
    const units = note.lengthBeats * unit * UNITS_PER_SEMIBREVE;
    const inTriplet = !isWhole(units);
    const mark = inTriplet && isWhole(note.startBeats) ? tripletMark(exercise.notes.length - place) : "";
    const abc = mark + abcNote(note, signature) + abcLength(inTriplet ? units * TRIPLET_STRETCH : units);
    const end = note.startBeats + note.lengthBeats;
    const barEnds = isWhole(end / bar);
    const last = place === exercise.notes.length - 1;
    if (last) return `${abc} |]`;
    if (!barEnds) return abc + (isWhole(end) ? " " : "");
    return Math.round(end / bar) % barsPerLine === 0 ? `${abc} |\n` : `${abc} | `;
  });
  const [top, bottom] = meterOf(exercise);
  return [
    "X:1",
    `M:${top}/${bottom}`,
    `L:1/${UNITS_PER_SEMIBREVE}`,
    `K:${exercise.home}${MODE_WORDS[exercise.mode]}`,
    body.join(""),
  ].join("\n");
}

/** The last group of a line may hold fewer than three notes; ABC 2.1 then wants the count. */
const tripletMark = (notesLeft: number) => (notesLeft >= 3 ? "(3" : `(3:2:${notesLeft}`);

const isWhole = (value: number) => Math.abs(value - Math.round(value)) < 1e-6;

/** The metre as written: 4 beats of a crotchet are 4/4, 2 of a dotted crotchet 6/8. */
export function meterOf(exercise: Exercise): readonly [number, number] {
  const [top, bottom] = exercise.tempo.noteValue.split("/").map(Number);
  return [exercise.beatsPerBar * (top ?? 1), bottom ?? 4];
}

/** Letters of the mode with their accidentals: {F: "#", C: ""}. */
function signatureOf(exercise: Exercise): ReadonlyMap<string, string> {
  const names = exercise.notes.map((note) => note.noteName.replace(/-?\d+$/, ""));
  const inMode = names.filter((name) => pitchClassOfName(name) !== null);
  return new Map(inMode.map((name) => [name.charAt(0), name.slice(1)]));
}

const ABC_ACCIDENTALS: Readonly<Record<string, string>> = { "##": "^^", "#": "^", "": "=", b: "_", bb: "__" };

function abcNote(note: ExpectedNote, signature: ReadonlyMap<string, string>): string {
  const match = /^([A-G])(#{0,2}|b{0,2})(-?\d+)$/.exec(note.noteName);
  if (match === null)
    throw new RangeError(`note ${note.index} has no name a staff can show: "${note.noteName}"`);
  const [, letter = "C", accidental = "", octaveText = "4"] = match;
  const octave = Number(octaveText);
  const shown = signature.get(letter) === accidental ? "" : (ABC_ACCIDENTALS[accidental] ?? "");
  if (octave >= 5) return shown + letter.toLowerCase() + "'".repeat(octave - 5);
  return shown + letter + ",".repeat(4 - octave);
}

function abcLength(units: number): string {
  const whole = Math.round(units);
  return whole === 1 ? "" : String(whole);
}
