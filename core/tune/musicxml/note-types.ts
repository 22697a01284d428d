import { TICKS_PER_SEMIBREVE } from "../tune.ts";

/** `type` of MusicXML 4.0 (note-type-value), longest first, from four semibreves on, each half of the one before. */
const TYPES = [
  "long",
  "breve",
  "whole",
  "half",
  "quarter",
  "eighth",
  "16th",
  "32nd",
  "64th",
  "128th",
  "256th",
  "512th",
];

export interface NoteValueName {
  readonly type: string;
  readonly dots: number;
}

/** The name of a written length; null where no value with up to two dots is as long. */
export function noteType(lengthTicks: number): NoteValueName | null {
  for (const [place, type] of TYPES.entries()) {
    const undotted = (4 * TICKS_PER_SEMIBREVE) / 2 ** place;
    const dots = [1, 3 / 2, 7 / 4].findIndex((factor) => undotted * factor === lengthTicks);
    if (dots >= 0) return { type, dots };
  }
  return null;
}

/** Semibreves of a note type; null if there is no such type. */
export function semibrevesOfType(type: string): number | null {
  const place = TYPES.indexOf(type);
  return place < 0 ? null : 4 / 2 ** place;
}
