import type { SevenMode } from "../pitch/modes.ts";
import type { Midi, Ticks } from "../units.ts";
import type { TuneDance } from "./dances.ts";
import type { Tempo } from "./tempo.ts";

/** So that 512ths, and threes, fives, sevens and nines of longer notes, are whole numbers: [calc] 512 * 315. */
export const TICKS_PER_SEMIBREVE = 161_280;

/** Where in a file something stands, both counted from 1. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

/** Something a reader put right, left out or could not read, and where. */
export interface Remark {
  readonly place: Place | null;
  /** One sentence that names what and what was done about it. */
  readonly words: string;
}

/** 6/8 is `{ beats: 6, unit: 8 }`. */
export interface Metre {
  readonly beats: number;
  readonly unit: number;
}

export interface TuneKey {
  /** Note letter with accidentals, "F#". */
  readonly tonic: string;
  /** Null where the key line names none of the seven modes (no signature, or all accidentals listed). */
  readonly mode: SevenMode | null;
  /** Signature as it works: letter to semitones, only those that are not 0. */
  readonly signature: Readonly<Partial<Record<"C" | "D" | "E" | "F" | "G" | "A" | "B", number>>>;
  /** False where the file does not say the mode (MIDI) or contradicts the last note: to be asked. */
  readonly sure: boolean;
}

/** Played within a note or just before it; never a note of the tune itself. */
export interface Ornament {
  /** "roll", "trill", "grace", "staccato" ...: the standard's name for it; "after-grace" for grace notes that end the note. */
  readonly kind: string;
  /** For grace notes, in order. */
  readonly notes: readonly { readonly midi: Midi; readonly name: string }[];
}

/** One note as it is played, ties joined. */
export interface TuneNote {
  /** Place in playing order, from 0. */
  readonly index: number;
  readonly startTicks: Ticks;
  readonly lengthTicks: Ticks;
  readonly midi: Midi;
  /** As spelled, with octave: "F#4". */
  readonly name: string;
  /** Place in `Tune.bars` of the bar it begins in. */
  readonly bar: number;
  /** Number of the note as written, from 0: a repeat plays the same again. */
  readonly written: number;
  readonly place: Place | null;
  readonly ornaments: readonly Ornament[];
  /** Further notes of a chord, lower first; the tune's own note is the highest. */
  readonly chord?: readonly Midi[];
}

/** One bar as it is played. */
export interface TuneBar {
  readonly index: number;
  readonly startTicks: Ticks;
  readonly lengthTicks: Ticks;
  /** Number of the bar as written, from 0: a repeat plays the same again. */
  readonly written: number;
  /** How many times this written bar was played before, from 0. */
  readonly pass: number;
  readonly metre: Metre | null;
  /** Strain it belongs to, "A", "B" ...: from P: where written, else from double bars and repeats. */
  readonly strain: string;
  /** Shorter than its metre because the strain begins with an upbeat, or ends short by the same. */
  readonly kind: "whole" | "pick-up" | "short end" | "irregular";
}

/** A chord symbol over the tune, in playing order. */
export interface ChordAt {
  readonly atTicks: Ticks;
  /** "Am7", as written. */
  readonly symbol: string;
}

/** A field of the header that is kept for people: who made it, where it is from. */
export interface TuneField {
  /** "composer", "origin", "area", "source", "book", "transcription", "notes", "history", "copyright", "discography", "group", "file". */
  readonly kind: string;
  readonly text: string;
}

/** A tune in playing order: repeats, endings, part order and da capo played out. Plain data. */
export interface Tune {
  /** Number in its file (X:), or its place from 1 where it has none. */
  readonly number: number;
  readonly title: string;
  readonly otherTitles: readonly string[];
  readonly fields: readonly TuneField[];
  readonly dance: TuneDance | null;
  /** As written in the file. */
  readonly rhythm: string | null;
  /** Null for a free metre. */
  readonly metre: Metre | null;
  readonly key: TuneKey;
  readonly tempo: Tempo;
  readonly tempoFrom: "tune" | "dance" | "neither";
  readonly bars: readonly TuneBar[];
  readonly notes: readonly TuneNote[];
  readonly chords: readonly ChordAt[];
  readonly remarks: readonly Remark[];
}

/** A tune of a file that could not be read. */
export interface BadTune {
  readonly number: number | null;
  readonly title: string | null;
  readonly place: Place | null;
  /** One sentence: what is wrong. */
  readonly reason: string;
}

/** All tunes of a file; one bad tune never loses the others. */
export interface TuneBook {
  readonly kind: "tunes";
  readonly tunes: readonly Tune[];
  readonly bad: readonly BadTune[];
  readonly remarks: readonly Remark[];
}

export type ReadTunes = TuneBook | { readonly kind: "unreadable"; readonly reason: string };
