import { SEVEN_MODES, type SevenMode, spellMode } from "../pitch/modes.ts";
import { pitchClass, pitchClassOfName } from "../pitch/note-names.ts";
import type { Midi } from "../units.ts";
import type { TuneKey } from "./tune.ts";

export type Signature = TuneKey["signature"];
export type Letter = keyof Signature;

/** Fifths each mode's signature lies from the major one on the same note: ABC 2.1, 3.1.14. */
export const MODE_FIFTHS: Readonly<Record<SevenMode, number>> = {
  lydian: 1,
  major: 0,
  mixolydian: -1,
  dorian: -2,
  minor: -3,
  phrygian: -4,
  locrian: -5,
};
export const IN_ORDER_OF_SHARPS: readonly Letter[] = ["F", "C", "G", "D", "A", "E", "B"];
const MOST_FIFTHS = 7;

/** Sharps less flats of a name's accidentals: "Bb" -> -1. */
export function accidentalOf(name: string): number {
  return [...name.slice(1)].reduce((sum, sign) => sum + (sign === "#" ? 1 : sign === "b" ? -1 : 0), 0);
}

/**
 * Sharps (positive) or flats of the signature of a mode on a note: "D", "mixolydian" -> 1; null beyond seven.
 *
 * @param tonic letter with accidentals, "F#"
 */
export function fifthsOfKey(tonic: string, mode: SevenMode): number | null {
  const place = "FCGDAEB".indexOf(tonic.charAt(0) || "?");
  if (place < 0) return null;
  const fifths = place - 1 + 7 * accidentalOf(tonic) + MODE_FIFTHS[mode];
  return Math.abs(fifths) > MOST_FIFTHS ? null : fifths;
}

/** The home note whose mode has a signature of so many sharps (positive) or flats: 1, "dorian" -> "A". */
export function tonicOfFifths(fifths: number, mode: SevenMode): string {
  const place = fifths - MODE_FIFTHS[mode] + 1;
  const accidentals = Math.floor(place / 7);
  const letter = IN_ORDER_OF_SHARPS[place - 7 * accidentals] ?? "C";
  return letter + (accidentals < 0 ? "b" : "#").repeat(Math.abs(accidentals));
}

/** The signature of so many sharps (positive) or flats, -7 to 7. */
export function signatureOfFifths(fifths: number): Signature {
  const sharps = fifths > 0;
  const letters = sharps ? IN_ORDER_OF_SHARPS : [...IN_ORDER_OF_SHARPS].reverse();
  const moved = letters.slice(0, Math.min(Math.abs(fifths), MOST_FIFTHS));
  return Object.fromEntries(moved.map((letter) => [letter, sharps ? 1 : -1]));
}

/** Sharps (positive) or flats of a signature; null where it is not one of the usual fifteen. */
export function fifthsOfSignature(signature: Signature): number | null {
  const sum = IN_ORDER_OF_SHARPS.reduce((total, letter) => total + (signature[letter] ?? 0), 0);
  return Math.abs(sum) <= MOST_FIFTHS && sameSignature(signature, signatureOfFifths(sum)) ? sum : null;
}

/** Whether two signatures move every letter alike. */
export function sameSignature(one: Signature, other: Signature): boolean {
  return IN_ORDER_OF_SHARPS.every((letter) => (one[letter] ?? 0) === (other[letter] ?? 0));
}

/** Letters whose accidental differs between two signatures, in the order of sharps. */
export function lettersApart(one: Signature, other: Signature): readonly Letter[] {
  return IN_ORDER_OF_SHARPS.filter((letter) => (one[letter] ?? 0) !== (other[letter] ?? 0));
}

/** Note names, without octave, that a key spells its notes with; none where its mode has no name. */
export function spellingsOfKey(key: TuneKey): readonly string[] {
  if (key.mode !== null) return spellMode(key.tonic, key.mode);
  return IN_ORDER_OF_SHARPS.map((letter) => {
    const shift = key.signature[letter] ?? 0;
    return letter + (shift < 0 ? "b" : "#").repeat(Math.abs(shift));
  });
}

/** The key of a mode with a signature of so many sharps (positive) or flats, -7 to 7. */
export function keyOfFifths(fifths: number, mode: SevenMode, sure: boolean): TuneKey {
  return { tonic: tonicOfFifths(fifths, mode), mode, signature: signatureOfFifths(fifths), sure };
}

/** The mode with this signature whose home note the given one is, in any octave; null where the signature has no such note. */
export function modeEndingOn(fifths: number, last: Midi): SevenMode | null {
  const isLast = (mode: SevenMode) => pitchClassOfName(tonicOfFifths(fifths, mode)) === pitchClass(last);
  return SEVEN_MODES.find(isLast) ?? null;
}
