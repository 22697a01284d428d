import { Chord } from "tonal";
import { type Degree, degreeOf } from "../pitch/modes.ts";
import { type PitchClass, pitchClass, pitchClassOfName } from "../pitch/note-names.ts";
import type { HomeScale } from "./scale-report.ts";

const NUMERALS = ["I", "II", "III", "IV", "V", "VI", "VII"] as const;

/** What a numeral adds for a chord type, by the symbol tonal gives it. Minor thirds are written small beside this. */
const ADDITIONS: Readonly<Record<string, string>> = {
  M: "",
  m: "",
  dim: "°",
  aug: "+",
  m7: "7",
  maj7: "maj7",
  m7b5: "ø7",
  dim7: "°7",
  "6": "add6",
  m6: "add6",
  "5": "5",
};

/**
 * Roman numeral of a chord in a home key and mode: the number of the mode's degree its root is on, small for a minor third.
 * A root outside the mode takes a sharp or flat against the mode's degree of that number: in G mixolydian F major is VII and
 * F sharp diminished #vii°.
 *
 * @param chordName a name `tonal` knows, with or without bass: "Dm7", "CM/G"
 * @returns null where the name has no root
 */
export function romanNumeral(chordName: string, scale: HomeScale): string | null {
  const parts = chordParts(chordName);
  if (parts === null) return null;
  return numeralOf(pitchClass(parts.root - scale.home), scale.degrees, parts.minorThird) + parts.addition;
}

interface ChordParts {
  readonly root: PitchClass;
  readonly minorThird: boolean;
  readonly addition: string;
}

/** Chord names already taken apart. */
const partsOfName = new Map<string, ChordParts | null>();

function chordParts(chordName: string): ChordParts | null {
  const known = partsOfName.get(chordName);
  if (known !== undefined) return known;
  const parts = takeApart(chordName);
  partsOfName.set(chordName, parts);
  return parts;
}

function takeApart(chordName: string): ChordParts | null {
  // With its bass a chord's intervals count from the bass; the numeral wants them from the root.
  const chord = Chord.get(withoutBass(chordName));
  const root = chord.tonic === null ? null : pitchClassOfName(chord.tonic);
  if (chord.empty || root === null) return null;
  const type = chord.symbol.slice((chord.tonic ?? "").length);
  return {
    root,
    minorThird: chord.intervals.includes("3m"),
    addition: ADDITIONS[type] ?? type.replace(/^[mM](?!aj)/, ""),
  };
}

/** "CM/G" -> "CM". */
export const withoutBass = (chordName: string) => chordName.replace(/\/[A-G][#b]*$/, "");

/** "ii", "bVI", "#iv": a degree as a numeral, small for a chord with a minor third. */
export function numeralOf(aboveHome: number, degrees: readonly Degree[], minorThird: boolean): string {
  const plain = degreeOf(aboveHome, degrees);
  const number = numberOf(plain);
  const its = degrees.find((degree) => numberOf(degree) === number);
  const against = its?.aboveHome ?? MAJOR[number - 1] ?? 0;
  const shift = plain.aboveHome - against;
  const sign = shift < 0 ? "b".repeat(-shift) : "#".repeat(shift);
  const numeral = NUMERALS[number - 1] ?? "I";
  return sign + (minorThird ? numeral.toLowerCase() : numeral);
}

const MAJOR = [0, 2, 4, 5, 7, 9, 11];
const numberOf = (degree: Degree) => Number(degree.name.replace(/^[b#]+/, ""));
