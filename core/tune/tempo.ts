import { type Beats, type Bpm, bpm, type Seconds, seconds } from "../units.ts";

/** The note value a tempo counts, as a fraction of a semibreve. */
export type NoteValue = "1/8" | "1/4" | "3/8" | "1/2";
export const NOTE_VALUES: readonly NoteValue[] = ["1/8", "1/4", "3/8", "1/2"];

/** How fast: so many of one note value in a minute. A number of beats without its note value means nothing. */
export interface Tempo {
  readonly bpm: Bpm;
  readonly noteValue: NoteValue;
}

export const SLOWEST: Bpm = bpm(30);
export const FASTEST: Bpm = bpm(240);

const NAMES: Readonly<Record<NoteValue, string>> = {
  "1/8": "quaver",
  "1/4": "crotchet",
  "3/8": "dotted crotchet",
  "1/2": "minim",
};
/** Fonts of many systems have no minim: its name stands for it. */
const SIGNS: Readonly<Record<NoteValue, string>> = { "1/8": "♪", "1/4": "♩", "3/8": "♩.", "1/2": "minim" };

/** "crotchet = 90". */
export function tempoInWords(tempo: Tempo): string {
  return `${NAMES[tempo.noteValue]} = ${tempo.bpm}`;
}

/** "♩ = 90". */
export function tempoSign(tempo: Tempo): string {
  return `${SIGNS[tempo.noteValue]} = ${tempo.bpm}`;
}

/** Reads what `tempoSign` writes; null if it is none. */
export function readTempoSign(text: string): Tempo | null {
  const [sign, beats] = text.split(" = ");
  const noteValue = NOTE_VALUES.find((value) => SIGNS[value] === sign);
  const number = Number(beats);
  return noteValue === undefined || !(number > 0) ? null : { noteValue, bpm: bpm(number) };
}

/** Sounding length of a written length; negative lengths give negative times. */
export function beatsToSeconds(length: Beats, tempo: Tempo): Seconds {
  return seconds((length * 60) / tempo.bpm);
}

const SEMIBREVES: Readonly<Record<NoteValue, number>> = {
  "1/8": 1 / 8,
  "1/4": 1 / 4,
  "3/8": 3 / 8,
  "1/2": 1 / 2,
};

/** The counted note value as a number of semibreves: "3/8" -> 0.375. */
export const semibreves = (value: NoteValue): number => SEMIBREVES[value];
