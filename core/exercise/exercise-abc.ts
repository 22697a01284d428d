import type { Signature } from "../tune/key-signature.ts";
import { NoteWriter } from "../tune/note-writer.ts";
import { decorationAbc } from "../tune/ornament-abc.ts";
import { semibreves } from "../tune/tempo.ts";
import type { Ornament } from "../tune/tune.ts";
import type { Exercise, ExpectedNote } from "./exercise.ts";
import { movedName } from "./on-harp-words.ts";
import { EVEN, rhythmRemark } from "./rhythm.ts";
import { staffKeyOf } from "./staff-key.ts";
import { staffClef, staffOctaves, staffOctaveWords } from "./staff-octave.ts";
import {
  isNearlyWhole,
  isOnGrid,
  type StaffPart,
  staffParts,
  writtenEnd,
  writtenStart,
} from "./staff-parts.ts";

/** Notes are written in 64ths of a semibreve: fine enough for quarters of every beat a tempo counts, dotted ones too. */
const UNITS_PER_SEMIBREVE = 64;
/** Three notes in the time of two, where a third of the beat is no note value of its own. */
const TRIPLET_STRETCH = 3 / 2;
/** Lengths in units that one sign can show: plain, dotted and double dotted. */
const SIGN_LENGTHS = [1, 3, 7]
  .flatMap((times) => Array.from({ length: 8 }, (_, power) => times * 2 ** power))
  .sort((a, b) => b - a);

/** One line of music: the notes from `from` up to but not including `to`. */
export interface StaffLine {
  readonly from: number;
  readonly to: number;
  /** A whole ABC tune of this line alone; the first line carries the metre. */
  readonly abc: string;
}

/** The ornaments of a note, at the pitch it sounds: an exercise asks for none, but a tune's page shows them. */
export type OrnamentsOf = (note: ExpectedNote) => readonly Ornament[];
const NONE: OrnamentsOf = () => [];

/**
 * An exercise as lines of music for drawing on a staff. Lines that would hold nothing but rests are left out.
 *
 * @param barsPerLine bars before a line ends, >= 1
 */
export function staffLines(
  exercise: Exercise,
  barsPerLine: number,
  ornaments: OrnamentsOf = NONE,
): readonly StaffLine[] {
  const beatsPerLine = barsPerLine * exercise.beatsPerBar;
  const upbeat = upbeatBeats(exercise);
  const lineOf = (note: ExpectedNote) =>
    Math.max(0, Math.floor((writtenStart(note) - upbeat) / beatsPerLine + 1e-9));
  const end = endOf(exercise);
  const count = Math.max(1, Math.ceil((end - upbeat) / beatsPerLine - 1e-9));
  return Array.from({ length: count }, (_, line) => {
    const notes = exercise.notes.filter((note) => lineOf(note) === line);
    const from = notes[0]?.index ?? 0;
    const until = Math.min(end, upbeat + (line + 1) * beatsPerLine);
    const body = abcBody(exercise, line === 0 ? 0 : upbeat + line * beatsPerLine, until, ornaments);
    return { from, to: from + notes.length, abc: `${abcHeader(exercise, line === 0)}\n${body}` };
  }).filter((line) => line.to > line.from);
}

/** An exercise as one ABC 2.1 tune, written in the mode's own key signature. */
export function exerciseToAbc(exercise: Exercise): string {
  return `${abcHeader(exercise, true)}\n${abcBody(exercise, 0, endOf(exercise), NONE)}`;
}

/** A first bar of a tune that begins in its middle is an upbeat: it stands before the bars of the first line. */
function upbeatBeats({ kind, notes, beatsPerBar }: Exercise): number {
  const first = notes[0];
  return kind === "tune" &&
    first !== undefined &&
    writtenStart(first) > 1e-6 &&
    writtenStart(first) < beatsPerBar
    ? beatsPerBar
    : 0;
}

const endOf = (exercise: Exercise) => Math.max(0, ...exercise.notes.map(writtenEnd));

/** The metre as written: 4 beats of a crotchet are 4/4, 2 of a dotted crotchet 6/8. */
export function meterOf(exercise: Exercise): readonly [number, number] {
  const [top, bottom] = exercise.tempo.noteValue.split("/").map(Number);
  return [exercise.beatsPerBar * (top ?? 1), bottom ?? 4];
}

/** A tune lies where the harp has it, which may be far off the staff; a drill is written as it sounds. */
const loweredOctaves = ({ kind, notes }: Exercise): number =>
  kind === "tune" ? staffOctaves(notes.map((note) => note.midi)) : 0;

function abcHeader(exercise: Exercise, withMeter: boolean): string {
  const [top, bottom] = meterOf(exercise);
  const meter = withMeter ? [`M:${top}/${bottom}`] : ["M:none"];
  const clef = staffClef(loweredOctaves(exercise));
  return ["X:1", ...meter, `L:1/${UNITS_PER_SEMIBREVE}`, `K:${staffKeyOf(exercise).key}${clef}`].join("\n");
}

/** The bars between two beats, the first on a bar line. */
function abcBody(exercise: Exercise, fromBeats: number, toBeats: number, ornaments: OrnamentsOf): string {
  const unitsPerBeat = semibreves(exercise.tempo.noteValue) * UNITS_PER_SEMIBREVE;
  const writer = new BodyWriter(exercise, staffKeyOf(exercise).signature, unitsPerBeat, ornaments);
  const parts = staffParts(exercise, fromBeats, toBeats, unitsPerBeat);
  const end = endOf(exercise);
  for (let place = 0; place < parts.length; ) {
    const group = groupAt(parts, place, unitsPerBeat);
    writer.group(group);
    place += group.length;
    writer.after(group.at(-1)?.endBeats ?? 0, end);
  }
  return writer.text();
}

/** The part at a place, or all parts of its beat where one of them is off the grid of plain note values. */
function groupAt(parts: readonly StaffPart[], place: number, unitsPerBeat: number): readonly StaffPart[] {
  const first = parts[place];
  if (first === undefined) return [];
  const beat = groupEnd(parts, place, first.startBeats);
  let end = place;
  while ((parts[end]?.startBeats ?? Infinity) < beat - 1e-6) end++;
  const within = parts.slice(place, end);
  return within.every((part) => isOnGrid(part, unitsPerBeat)) ? [first] : within;
}

/** Where the tuplet a part stands in ends: with the beat, or in its middle where a part ends there, as half a minim may be three. */
function groupEnd(parts: readonly StaffPart[], place: number, startBeats: number): number {
  const beat = Math.floor(startBeats + 1e-6) + 1;
  const middle = Math.floor(2 * startBeats + 1e-6) / 2 + 0.5;
  const endsThere = parts.slice(place).some((part) => Math.abs(part.endBeats - middle) < 1e-6);
  return middle < beat - 1e-6 && endsThere ? middle : beat;
}

class BodyWriter {
  readonly #exercise: Exercise;
  readonly #unitsPerBeat: number;
  readonly #notes = new NoteWriter();
  readonly #signature: Signature;
  readonly #begins: number;
  readonly #lowered: number;
  readonly #ornaments: OrnamentsOf;
  #text = "";

  constructor(exercise: Exercise, signature: Signature, unitsPerBeat: number, ornaments: OrnamentsOf) {
    this.#exercise = exercise;
    this.#ornaments = ornaments;
    this.#unitsPerBeat = unitsPerBeat;
    this.#signature = signature;
    this.#notes.startBar(signature);
    const [first] = exercise.notes;
    this.#begins = first === undefined ? 0 : writtenStart(first);
    this.#lowered = loweredOctaves(exercise);
  }

  /** Parts that belong together: one of plain value, or the parts of a beat as a tuplet. */
  group(parts: readonly StaffPart[]): void {
    const isTuplet = !parts.every((part) => isOnGrid(part, this.#unitsPerBeat));
    const stretch = isTuplet ? TRIPLET_STRETCH : 1;
    const signs = parts.flatMap((part) => this.#signs(part, stretch));
    // "(3" alone means three notes; any other number of them has to be said (ABC 2.1, 4.13).
    const mark = !isTuplet ? "" : signs.length === 3 ? "(3" : `(3:2:${signs.length}`;
    this.#text += mark + signs.join("");
  }

  /** Beams end with the beat, accidentals with the bar. */
  after(atBeats: number, endBeats: number): void {
    if (atBeats > endBeats - 1e-6) {
      this.#text += " |]";
    } else if (isNearlyWhole(atBeats / this.#exercise.beatsPerBar)) {
      this.#text += " | ";
      this.#notes.startBar(this.#signature);
    } else if (isNearlyWhole(atBeats)) this.#text += " ";
  }

  text(): string {
    return this.#text.trimEnd();
  }

  #signs(part: StaffPart, stretch: number): readonly string[] {
    const units = Math.max(1, Math.round((part.endBeats - part.startBeats) * this.#unitsPerBeat * stretch));
    const lengths = signLengths(units);
    const { note } = part;
    if (note === null) {
      // Before an upbeat nothing is shown: the page begins with its note.
      const rest = this.#isBeforeUpbeat(part) ? "x" : "z";
      return lengths.map((length) => `${rest}${inUnits(length)}`);
    }
    return lengths.map((length, place) => {
      const begins = place === 0 && part.startBeats < writtenStart(note) + 1e-6;
      const tied = place < lengths.length - 1 || part.tied;
      return (
        (begins ? this.#graces(note, "grace") + this.#marks(note) : "") +
        this.#sounding(note, !begins) +
        inUnits(length) +
        (tied ? "-" : this.#graces(note, "after-grace"))
      );
    });
  }

  /** The note's name, or those of a chord in brackets (ABC 2.1, 4.17). */
  #sounding({ noteName, chord }: ExpectedNote, goesOn: boolean): string {
    const names = [noteName, ...(chord?.besides ?? []).map((reed) => reed.noteName)];
    const written = names.map((name) => this.#notes.write(movedName(name, -this.#lowered), goesOn));
    return written.length === 1 ? written.join("") : `[${written.join("")}]`;
  }

  #isBeforeUpbeat(part: StaffPart): boolean {
    return upbeatBeats(this.#exercise) > 0 && part.endBeats <= this.#begins + 1e-6;
  }

  #marks(note: ExpectedNote): string {
    const remarks =
      note.index === 0
        ? [rhythmRemark(this.#exercise.rhythm ?? EVEN) ?? "", staffOctaveWords(this.#lowered)]
        : [];
    const remark = remarks.filter((one) => one !== "").join(", ");
    const symbol = this.#chordName(note);
    const decorations = this.#ornaments(note).map(decorationAbc).join("");
    return (
      symbol + (remark === "" ? "" : `"^${remark}"`) + (note.accent === true ? "!accent!" : "") + decorations
    );
  }

  /** The name of a chord, where it is another than the one before. */
  #chordName({ index, chord }: ExpectedNote): string {
    const before = this.#exercise.notes[index - 1]?.chord?.name;
    return chord === undefined || chord.name === before
      ? ""
      : `"${chord.name.replace(/["\s]+/g, " ").trim()}"`;
  }

  /** Those before the note, or those that end it. */
  #graces(note: ExpectedNote, kind: "grace" | "after-grace"): string {
    const names = this.#ornaments(note).flatMap((one) => (one.kind === kind ? one.notes : []));
    if (names.length === 0) return "";
    return `{${names.map(({ name }) => this.#notes.writeGrace(movedName(name, -this.#lowered))).join("")}}`;
  }
}

/** A length as signs that each can show one: 40 -> 32 and 8. */
function signLengths(units: number): readonly number[] {
  const lengths: number[] = [];
  for (let left = units; left > 0; ) {
    const length = SIGN_LENGTHS.find((one) => one <= left) ?? 1;
    lengths.push(length);
    left -= length;
  }
  return lengths;
}

const inUnits = (units: number) => (units === 1 ? "" : String(units));
