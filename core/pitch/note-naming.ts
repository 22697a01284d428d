import { ownRow } from "../reading/own-row.ts";
/** The words notes are called by: English letters, syllables as in France, Italy and Spain, or German letters with H. */
export type NoteNaming = "letters" | "syllables" | "german";
export const NOTE_NAMINGS: readonly NoteNaming[] = ["letters", "syllables", "german"];

const SYLLABLES: Readonly<Record<string, string>> = {
  C: "Do",
  D: "Re",
  E: "Mi",
  F: "Fa",
  G: "Sol",
  A: "La",
  B: "Si",
};

/**
 * A note name in another naming: "F#4" is "Fa♯4" and "Fis4", "Bb" is "Si♭" and "B", "B" is "Si" and "H". Octave numbers stay
 * as they are, C4 = 60. Common practice in each of the languages.
 *
 * @param name letter, accidentals and perhaps an octave, as `noteName` writes it; anything else comes back unchanged
 */
export function renamed(name: string, naming: NoteNaming): string {
  const match = /^([A-G])(#{0,2}|b{0,2})(-?\d*)$/.exec(name);
  if (match === null || naming === "letters") return name;
  const [, letter = "", accidentals = "", octave = ""] = match;
  const called =
    naming === "german"
      ? germanName(letter, accidentals)
      : `${ownRow(SYLLABLES, letter) ?? letter}${accidentals.replaceAll("#", "♯").replaceAll("b", "♭")}`;
  return `${called}${octave}`;
}

function germanName(letter: string, accidentals: string): string {
  if (letter === "B") {
    if (accidentals === "") return "H";
    // B flat has a letter of its own; the rest is counted from H.
    return accidentals === "b" ? "B" : germanName("H", accidentals);
  }
  if (accidentals.startsWith("#")) return letter + "is".repeat(accidentals.length);
  // E and A lose the vowel: Es and As, Eses and Asas.
  if (letter === "A" && accidentals.length === 2) return "Asas";
  const flats = accidentals.length;
  if (flats > 0 && (letter === "E" || letter === "A")) return `${letter}s${"es".repeat(flats - 1)}`;
  return letter + "es".repeat(flats);
}
