import { type SevenMode, signatureMode } from "../pitch/modes.ts";
import type { Exercise } from "./exercise.ts";

/** ABC 2.1 mode words after the key, so that the signature is the mode's own, or that of the mode it is a part of. */
const MODE_WORDS: Readonly<Record<SevenMode, string>> = {
  major: "",
  dorian: "dor",
  phrygian: "phr",
  lydian: "lyd",
  mixolydian: "mix",
  minor: "min",
  locrian: "loc",
};
/** Fifths each mode's signature lies from the major one on the same note: ABC 2.1, 3.1.14. */
const MODE_FIFTHS: Readonly<Record<SevenMode, number>> = {
  lydian: 1,
  major: 0,
  mixolydian: -1,
  dorian: -2,
  minor: -3,
  phrygian: -4,
  locrian: -5,
};
const SHARPS_IN_ORDER = "FCGDAEB";
const FLATS_IN_ORDER = "BEADGCF";

/** A key signature: what stands after K:, and semitones each letter is moved. */
export interface Signature {
  readonly key: string;
  readonly byLetter: ReadonlyMap<string, number>;
}

/** The signature of a home note and mode; none where it would need more than seven sharps or flats. */
export function signatureOf(exercise: Pick<Exercise, "home" | "mode">): Signature {
  const mode = signatureMode(exercise.mode);
  const letter = SHARPS_IN_ORDER.indexOf(exercise.home.charAt(0)) - 1;
  const fifths = letter + 7 * shiftOf(exercise.home.slice(1)) + MODE_FIFTHS[mode];
  if (Math.abs(fifths) > 7) return { key: "C", byLetter: new Map() };
  const signed = (fifths > 0 ? SHARPS_IN_ORDER : FLATS_IN_ORDER).slice(0, Math.abs(fifths));
  const byLetter = new Map([...signed].map((one) => [one, Math.sign(fifths)]));
  return { key: exercise.home + MODE_WORDS[mode], byLetter };
}

/** Sharps less flats of an accidental: "b" -> -1. */
function shiftOf(accidental: string): number {
  return [...accidental].reduce((sum, sign) => sum + (sign === "#" ? 1 : -1), 0);
}

const ABC_ACCIDENTALS: Readonly<Record<number, string>> = { [-2]: "__", [-1]: "_", 0: "=", 1: "^", 2: "^^" };
/** Equal to no accidental. */
const UNSURE = Number.NaN;
const NOTE_NAME = /^([A-G])(#{0,2}|b{0,2})(-?\d+)$/;

/**
 * Writes note names in one bar after another. An accidental holds to the bar line: by the standard on every octave of
 * its letter, in abcjs on its own octave alone. Where either reading would sound another note it is written.
 */
export class NoteWriter {
  readonly #signature: Signature;
  #anyOctave = new Map<string, number>();
  #ownOctave = new Map<string, number>();

  constructor(signature: Signature) {
    this.#signature = signature;
  }

  /** Accidentals end here. */
  barLine(): void {
    this.#anyOctave.clear();
    this.#ownOctave.clear();
  }

  /**
   * @param name with octave, "F#4"
   * @param goesOn whether this is the rest of a note tied over; programs differ on whether its accidental then holds, so
   *   the next note of its letter says its own
   * @throws RangeError if a staff cannot show it
   */
  write(name: string, goesOn = false): string {
    const match = NOTE_NAME.exec(name);
    if (match === null) throw new RangeError(`no staff can show a note called "${name}"`);
    const [, letter = "C", sign = "", octaveText = "4"] = match;
    const wanted = shiftOf(sign);
    const usual = this.#signature.byLetter.get(letter) ?? 0;
    const place = letter + octaveText;
    const understood =
      (this.#anyOctave.get(letter) ?? usual) === wanted && (this.#ownOctave.get(place) ?? usual) === wanted;
    if (goesOn || !understood) {
      this.#anyOctave.set(letter, goesOn ? UNSURE : wanted);
      this.#ownOctave.set(place, goesOn ? UNSURE : wanted);
    }
    const accidental = understood ? "" : (ABC_ACCIDENTALS[wanted] ?? "");
    const octave = Number(octaveText);
    if (octave >= 5) return accidental + letter.toLowerCase() + "'".repeat(octave - 5);
    return accidental + letter + ",".repeat(4 - octave);
  }
}
