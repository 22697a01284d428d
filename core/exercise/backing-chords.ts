import { chordOfSymbol, type WantedChord } from "../instrument/chord-grips.ts";
import { letterName, pitchClass } from "../pitch/note-names.ts";
import { readNumerals } from "./chords.ts";
import type { Reach } from "./reach.ts";

/** A chord of a backing and how long it holds. */
export interface HeldChord extends WantedChord {
  /** Whole beats. */
  readonly beats: number;
}

export type ReadBacking =
  | { readonly kind: "chords"; readonly chords: readonly HeldChord[] }
  | { readonly kind: "unreadable"; readonly reason: string };

/** The chords of a long tune, each written bar once. */
const MOST_CHORDS = 200;
const MOST_BEATS = 64;
/** A chord symbol begins with the name of its root; Roman numerals have none of these letters. */
const SYMBOL = /^[A-G]/;
const ENTRY = /^(.+?)(?::(\d+))?$/;

/**
 * Reads a backing: Roman numerals of the mode or chord symbols, apart by spaces or "-", each for a bar or, after a colon,
 * for so many beats: "I-IV-V-I", "G Em:1 D7:1".
 */
export function readBacking(reach: Reach, text: string, beatsPerBar: number): ReadBacking {
  const words = text.split(/[\s\-–,|]+/).filter((word) => word !== "");
  if (words.length === 0) return unreadable("a backing needs at least one chord, such as I-IV-V-I or G-C-D");
  if (words.length > MOST_CHORDS)
    return unreadable(`a backing may have ${MOST_CHORDS} chords, not ${words.length}`);
  const chords: HeldChord[] = [];
  for (const word of words) {
    const chord = readEntry(reach, word, beatsPerBar);
    if (typeof chord === "string") return unreadable(chord);
    chords.push(chord);
  }
  return { kind: "chords", chords };
}

const unreadable = (reason: string): ReadBacking => ({ kind: "unreadable", reason });

function readEntry(reach: Reach, word: string, beatsPerBar: number): HeldChord | string {
  const [, name = "", length] = ENTRY.exec(word) ?? [];
  const beats = length === undefined ? beatsPerBar : Number(length);
  if (beats < 1 || beats > MOST_BEATS) return `"${word}": a chord holds 1 to ${MOST_BEATS} beats`;
  const chord = SYMBOL.test(name) ? chordOfSymbol(name) : chordOfNumeral(reach, name);
  if (chord === null) return `"${name}" is not the symbol of a chord of three notes or more`;
  return typeof chord === "string" ? chord : { ...chord, beats };
}

function chordOfNumeral(reach: Reach, numeral: string): WantedChord | string {
  const read = readNumerals(reach, numeral);
  if (read.kind === "unreadable") return read.reason;
  const notes = (read.chords[0]?.degrees ?? []).map((name) => {
    const degree = reach.degrees.find((own) => own.name === name);
    return pitchClass(reach.homeClass + (degree?.aboveHome ?? 0));
  });
  const [root = reach.homeClass] = notes;
  const above = notes.map((note) => pitchClass(note - root));
  return { name: `${letterName(root, reach.spelling)}${qualityOf(above)}`, notes };
}

/** What a chord symbol adds to its root for a chord in thirds. @param above semitones above the root, the root first */
function qualityOf([, third = 4, fifth = 7, seventh]: readonly number[]): string {
  const triad = third === 3 ? (fifth === 6 ? "dim" : "m") : fifth === 8 ? "aug" : "";
  if (seventh === undefined) return triad;
  if (triad === "dim") return seventh === 9 ? "dim7" : "m7b5";
  return seventh === 11 ? `${triad}maj7` : `${triad}7`;
}
