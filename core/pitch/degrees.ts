import { quoted } from "../reading/quoting.ts";
import { type Semitones, semitones } from "../units.ts";

/** One step of a mode. */
export interface Degree {
  /** Scale degree against the major scale: "1", "b3", "#4". */
  readonly name: string;
  /** Semitones above the home note, 0..11. */
  readonly aboveHome: Semitones;
}

declare const degreeSet: unique symbol;
/** Any set of degrees as one text, ascending, each once: "1 2 b3 4 5 6 b7". Equal sets are equal texts. */
export type DegreeSet = string & { readonly [degreeSet]: true };

/** Degree names by semitones above the home note, where no mode says otherwise. Common practice. */
const DEGREE_NAMES = ["1", "b2", "2", "b3", "3", "4", "b5", "5", "b6", "6", "b7", "7"] as const;

/** The degree a note is, named as the mode names it where it belongs to the mode. */
export function degreeOf(aboveHome: number, degrees: readonly Degree[] = []): Degree {
  const step = ((aboveHome % 12) + 12) % 12;
  const own = degrees.find((degree) => degree.aboveHome === step);
  return own ?? { name: DEGREE_NAMES[step] ?? "1", aboveHome: semitones(step) };
}

export type ReadDegrees =
  | { readonly kind: "degrees"; readonly degrees: readonly Degree[] }
  | { readonly kind: "unreadable"; readonly reason: string };

/**
 * Reads any set of degrees, "1 b3 4 5 b7" or with commas.
 *
 * @returns the degrees ascending, each once; or one line naming the word that is no degree from 1 to 7 with b, bb or #
 *          before it, or two names of one note
 */
export function readDegrees(text: string): ReadDegrees {
  const words = text.split(/[\s,]+/).filter((word) => word !== "");
  if (words.length === 0) return unreadable(`there is no degree in it; a set is such as "1 2 b3 4 5 6 b7"`);
  const found = new Map<number, Degree>();
  for (const word of words) {
    const degree = degreeOfName(word);
    if (degree === null)
      return unreadable(`${quoted(word)} is not a degree; degrees are 1 to 7, with b, bb or # before them`);
    const before = found.get(degree.aboveHome);
    if (before !== undefined && before.name !== word)
      return unreadable(`"${before.name}" and "${word}" are the same note`);
    found.set(degree.aboveHome, degree);
  }
  return { kind: "degrees", degrees: [...found.values()].sort((a, b) => a.aboveHome - b.aboveHome) };
}

const unreadable = (reason: string): ReadDegrees => ({ kind: "unreadable", reason });

/** As `readDegrees`; null where the text is no set of degrees. */
export function degreesOfText(text: string): readonly Degree[] | null {
  const read = readDegrees(text);
  return read.kind === "degrees" ? read.degrees : null;
}

/** The one text of a set of degrees. @param degrees ascending, each once, at least one */
export function degreeSetOf(degrees: readonly Degree[]): DegreeSet {
  return degrees.map((degree) => degree.name).join(" ") as DegreeSet;
}

const MAJOR_STEPS = [0, 2, 4, 5, 7, 9, 11];

/** A degree by its name, "b3"; null if it is not one. */
export function degreeOfName(name: string): Degree | null {
  const match = /^(b{0,2}|#)([1-7])$/.exec(name);
  if (match === null) return null;
  const [, sign = "", number = "1"] = match;
  const shift = sign === "#" ? 1 : -sign.length;
  const step = (MAJOR_STEPS[Number(number) - 1] ?? 0) + shift;
  return { name, aboveHome: semitones((step + 12) % 12) };
}

/** Which of the seven degrees it is a form of: 3 for "b3". */
export function numberOfDegree(degree: Degree): number {
  return Number(degree.name.at(-1));
}

/** Whether each of the degrees 1 to 7 is there in one form, in order: then thirds can be stacked and intervals counted. */
export function isSevenDegrees(degrees: readonly Degree[]): boolean {
  return degrees.length === 7 && degrees.every((degree, place) => numberOfDegree(degree) === place + 1);
}
