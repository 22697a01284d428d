import { accidentalOf, type Letter, type Signature } from "./key-signature.ts";

const ABC_ACCIDENTALS: Readonly<Record<number, string>> = { [-2]: "__", [-1]: "_", 0: "=", 1: "^", 2: "^^" };
/** Equal to no accidental. */
const UNSURE = Number.NaN;
const NOTE_NAME = /^([A-G])(#{0,2}|b{0,2})(-?\d+)$/;

/**
 * Writes note names in ABC, in one bar after another. An accidental holds to the bar line: by the standard on every octave
 * of its letter, in some programs on its own octave alone. Where either reading would sound another note it is written.
 */
export class NoteWriter {
  #signature: Signature = {};
  readonly #anyOctave = new Map<string, number>();
  readonly #ownOctave = new Map<string, number>();

  /** Accidentals end here; the next bar has this signature. */
  startBar(signature: Signature): void {
    this.#signature = signature;
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
    const { letter, wanted, octave } = partsOf(name);
    const usual = this.#signature[letter] ?? 0;
    const place = letter + octave;
    const understood =
      (this.#anyOctave.get(letter) ?? usual) === wanted && (this.#ownOctave.get(place) ?? usual) === wanted;
    if (!understood || (goesOn && (wanted !== usual || this.#anyOctave.has(letter)))) {
      this.#anyOctave.set(letter, goesOn ? UNSURE : wanted);
      this.#ownOctave.set(place, goesOn ? UNSURE : wanted);
    }
    return (understood ? "" : (ABC_ACCIDENTALS[wanted] ?? "")) + written(letter, octave);
  }

  /** A grace note: programs differ on whether it hears the accidentals of its bar, and whether the bar hears its. */
  writeGrace(name: string): string {
    const { letter, wanted, octave } = partsOf(name);
    const usual = this.#signature[letter] ?? 0;
    const touched = this.#anyOctave.has(letter);
    if (!touched && wanted === usual) return written(letter, octave);
    this.#anyOctave.set(letter, UNSURE);
    return (ABC_ACCIDENTALS[wanted] ?? "") + written(letter, octave);
  }
}

function partsOf(name: string): {
  readonly letter: Letter;
  readonly wanted: number;
  readonly octave: number;
} {
  const match = NOTE_NAME.exec(name);
  if (match === null) throw new RangeError(`no staff can show a note called "${name}"`);
  const [, letter = "C", sign = "", octave = "4"] = match;
  return { letter: letter as Letter, wanted: accidentalOf(letter + sign), octave: Number(octave) };
}

function written(letter: string, octave: number): string {
  return octave >= 5
    ? letter.toLowerCase() + "'".repeat(octave - 5)
    : letter + ",".repeat(Math.max(0, 4 - octave));
}
