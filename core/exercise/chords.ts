import type { Degree, Mode } from "../pitch/modes.ts";
import type { ChordSize } from "./drill-spec.ts";
import { homeAndMode, notSeven, type Reach } from "./reach.ts";

/** A chord of the mode, built in thirds. */
export interface ModeChord {
  /** Degrees of its notes from the root up: "5", "7", "2". */
  readonly degrees: readonly string[];
  /** As the mode has it: "V", "ii", "vii°7". */
  readonly numeral: string;
}

const NUMERALS = ["I", "II", "III", "IV", "V", "VI", "VII"];

/** Why the mode has no chords in thirds, or null. */
export function withoutChords(reach: Reach): string | null {
  const reason = notSeven(reach);
  return reason === null ? null : `chords are built in thirds of a seven-note mode; ${reason}`;
}

/**
 * The chord on a degree of a seven-note mode.
 *
 * @param root index of the degree, 0..6
 * @returns null where the notes do not stand in major and minor thirds: no numeral names that
 */
export function chordOn(degrees: readonly Degree[], root: number, size: ChordSize): ModeChord | null {
  const steps = size === "triad" ? [0, 2, 4] : [0, 2, 4, 6];
  const notes = steps.map((step) => degrees[(root + step) % 7]).filter((degree) => degree !== undefined);
  const above = notes.map((degree) => (degree.aboveHome - (notes[0]?.aboveHome ?? 0) + 12) % 12);
  const inThirds = above.every((step, place) => place === 0 || isThird(step - (above[place - 1] ?? 0)));
  return inThirds ? { degrees: notes.map((degree) => degree.name), numeral: numeralOf(root, above) } : null;
}

const isThird = (semitones: number) => semitones === 3 || semitones === 4;

/** What is said of a degree without a chord. */
export function explainNoChord(reach: Reach, degree: string): string {
  return `the notes on ${degree} of ${homeAndMode(reach)} do not stand in thirds: there is no chord there`;
}

/** Progressions whose chords the mode has as they are written. */
const USUAL_PROGRESSIONS: Readonly<Partial<Record<Mode, string>>> = {
  major: "I-IV-V-I",
  mixolydian: "I-VII-IV-I",
  dorian: "i-VII-i-IV",
  minor: "i-VII-VI-VII",
};

/** A progression much played in a mode; null where none is known. */
export const usualProgression = (mode: Mode): string | null => USUAL_PROGRESSIONS[mode] ?? null;

/** Capitals for a major third, small letters for a minor one, ° and + for a fifth too small or too large. */
function numeralOf(root: number, above: readonly number[]): string {
  const [, third = 4, fifth = 7, seventh] = above;
  const letters = NUMERALS[root] ?? "I";
  const sign = fifth < 7 ? "°" : fifth > 7 ? "+" : "";
  return (third >= 4 ? letters : letters.toLowerCase()) + sign + (seventh === undefined ? "" : "7");
}

export type ReadNumerals =
  | { readonly kind: "chords"; readonly chords: readonly ModeChord[] }
  | { readonly kind: "unreadable"; readonly reason: string };

const MOST_CHORDS = 64;
const NUMERAL = /^(b{0,2}|#)([ivIV]+)(°|o|\+|)(7?)$/;

/**
 * Reads a progression in Roman numerals of the mode, apart by "-" or spaces: "ii-V7-I".
 *
 * A flat or sharp before a numeral must be the mode's own (bVII in mixolydian); capitals and small letters must be
 * right for the mode's chord, so that nobody practises a chord he did not mean.
 */
export function readNumerals(reach: Reach, text: string): ReadNumerals {
  const words = text.split(/[\s\-–,]+/).filter((word) => word !== "");
  if (words.length === 0)
    return unreadable("a progression needs at least one Roman numeral, such as I-IV-V-I");
  if (words.length > MOST_CHORDS)
    return unreadable(`a progression may have ${MOST_CHORDS} chords, not ${words.length}`);
  const chords: ModeChord[] = [];
  for (const word of words) {
    const chord = readNumeral(reach, word);
    if (typeof chord === "string") return unreadable(chord);
    chords.push(chord);
  }
  return { kind: "chords", chords };
}

const unreadable = (reason: string): ReadNumerals => ({ kind: "unreadable", reason });

function readNumeral(reach: Reach, word: string): ModeChord | string {
  const [, accidental = "", letters = "", sign = "", seven = ""] = NUMERAL.exec(word) ?? [];
  const root = NUMERALS.indexOf(letters.toUpperCase());
  const mixed = letters !== letters.toUpperCase() && letters !== letters.toLowerCase();
  if (root < 0 || mixed) return `"${word}" is not a Roman numeral from I to VII`;
  const degree = reach.degrees[root];
  if (accidental !== "" && degree?.name !== `${accidental}${root + 1}`)
    return `${homeAndMode(reach)} has no ${word}: its degree there is ${degree?.name}`;
  const chord = chordOn(reach.degrees, root, seven === "" ? "triad" : "seventh");
  if (chord === null) return explainNoChord(reach, degree?.name ?? word);
  const own = chord.numeral.replace(/[°+]/, "");
  const signFits = sign === "" || chord.numeral.includes(sign.replace("o", "°"));
  if (own !== letters + seven || !signFits)
    return `the chord there in ${homeAndMode(reach)} is ${chord.numeral}, not ${word}`;
  return chord;
}
