import { type Cents, cents } from "../units.ts";
import { ratio, ratioDeviation } from "./ratios.ts";

/** A way of tuning the twelve notes above a key note in whole-number ratios. */
export interface TuningScheme {
  readonly id: SchemeId;
  /** What a player reads. */
  readonly name: string;
  /** Ratios to the key note, by semitones above it, 0 to 11. */
  readonly ratios: readonly string[];
  readonly source: string;
}

export type SchemeId =
  | "just-first-position"
  | "just-sevenths"
  | "just-third-position"
  | "compromise-second-and-third"
  | "nineteen-limit";

const HANSSON = "Hansson, Theory of harmonica tuning and ji_hca01/02/03/23.scl, 2004 (seven natural notes)";
const DERIVED = "the other five by arithmetic from their neighbours in pure fifths and thirds";

/*
 * Natural notes 1 9/8 5/4 3/2 15/8 are common to all; the schemes differ in the 4th and the 6th. Between them:
 * b2 16/15 and b6 8/5 are pure thirds below the 4/3 and the 1, b3 6/5 a pure minor third above the 1, #4 45/32 a pure
 * third above the 2, b7 9/5 a pure minor third above the 5; the scheme of sevenths takes 7/6 and 7/4, that of nineteen 19/16
 * and 57/32, the same minor third above the 1 and the 5.
 */
// biome-ignore format: one row a scheme, one column a semitone
export const TUNING_SCHEMES: readonly TuningScheme[] = [
  { id: "just-first-position", name: "just for 1st position", ratios: ["1/1", "16/15", "9/8", "6/5", "5/4", "4/3", "45/32", "3/2", "8/5", "5/3", "9/5", "15/8"], source: `${HANSSON}; ${DERIVED}` },
  { id: "just-sevenths", name: "just with pure sevenths", ratios: ["1/1", "16/15", "9/8", "7/6", "5/4", "21/16", "45/32", "3/2", "8/5", "27/16", "7/4", "15/8"], source: `${HANSSON}; ${DERIVED}` },
  { id: "just-third-position", name: "just for 3rd position", ratios: ["1/1", "16/15", "9/8", "6/5", "5/4", "27/20", "45/32", "3/2", "8/5", "27/16", "9/5", "15/8"], source: `${HANSSON}; ${DERIVED}` },
  { id: "compromise-second-and-third", name: "compromise for 2nd and 3rd position", ratios: ["1/1", "16/15", "9/8", "6/5", "5/4", "4/3", "45/32", "3/2", "8/5", "27/16", "9/5", "15/8"], source: `${HANSSON}; ${DERIVED}` },
  { id: "nineteen-limit", name: "minor thirds as 19/16", ratios: ["1/1", "16/15", "9/8", "19/16", "5/4", "171/128", "45/32", "3/2", "8/5", "27/16", "57/32", "15/8"], source: `${HANSSON}; ${DERIVED}` },
];

export const SCHEME_IDS: readonly SchemeId[] = TUNING_SCHEMES.map((scheme) => scheme.id);

/** The scheme of an id. @throws RangeError for none: ids are checked where files are read */
export function tuningScheme(id: SchemeId): TuningScheme {
  const found = TUNING_SCHEMES.find((scheme) => scheme.id === id);
  if (found === undefined) throw new RangeError(`"${id}" is not a tuning scheme`);
  return found;
}

/**
 * Deviation of a note from equal temperament in a scheme.
 *
 * @param aboveKey whole semitones above the note the scheme counts from, negative below it
 */
export function schemeCents(scheme: TuningScheme, aboveKey: number): Cents {
  const step = ((aboveKey % 12) + 12) % 12;
  const text = scheme.ratios[step];
  return text === undefined ? cents(0) : ratioDeviation(ratio(text), step);
}
