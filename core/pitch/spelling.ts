import { type Degree, numberOfDegree } from "./degrees.ts";
import { keyName, pitchClass, pitchClassOfName } from "./note-names.ts";

const LETTERS = "CDEFGAB";
const NATURALS = [0, 2, 4, 5, 7, 9, 11];
/** What a staff can show. */
const MOST_ACCIDENTALS = 2;

/**
 * The name, without octave, of a degree of a home note: the letter so many letters on, with the accidentals that make the
 * pitch. "G", "b7" -> "F"; "Ab", "b3" -> "Cb". Where that would take more than two accidentals, the usual key name.
 *
 * @param home a note name without octave
 * @throws RangeError if `home` is not a note name
 */
export function spellDegree(home: string, degree: Degree): string {
  const homeClass = pitchClassOfName(home);
  if (homeClass === null) throw new RangeError(`"${home}" is not the name of a note`);
  const place = (LETTERS.indexOf(home.charAt(0).toUpperCase()) + numberOfDegree(degree) - 1) % 7;
  const wanted = pitchClass(homeClass + degree.aboveHome);
  const shift = pitchClass(wanted - (NATURALS[place] ?? 0) + 6) - 6;
  if (Math.abs(shift) > MOST_ACCIDENTALS) return keyName(wanted);
  return LETTERS.charAt(place) + (shift < 0 ? "b" : "#").repeat(Math.abs(shift));
}
