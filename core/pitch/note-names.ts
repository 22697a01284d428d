import { Note } from "tonal";
import { type Midi, midi } from "../units.ts";

/** 0 = C … 11 = B. */
export type PitchClass = number;

/** The names players use for the twelve keys of stock harps. */
export const KEY_NAMES = ["C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"] as const;

const SHARP_NAMES = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"] as const;

/** Pitch class modulo 12 of any whole number, negative ones included. */
export function pitchClass(note: number): PitchClass {
  return ((note % 12) + 12) % 12;
}

/**
 * Reads a note letter with any accidentals, without octave ("G", "Bb", "F#", "Cb").
 *
 * @returns the pitch class, or null if the text is not such a name
 */
export function pitchClassOfName(name: string): PitchClass | null {
  if (!/^[A-Ga-g](#{1,2}|b{1,2})?$/.test(name)) return null;
  return Note.chroma(name.charAt(0).toUpperCase() + name.slice(1)) ?? null;
}

/** Usual key name of a pitch class. */
export function keyName(of: PitchClass): string {
  return KEY_NAMES[pitchClass(of)] ?? "C";
}

/**
 * Name with octave of a whole MIDI number, C4 = 60, spelled like one of `spellings` if it is among them,
 * else with a sharp or a flat as those spellings mostly have.
 *
 * @param spellings note names without octave of the scale in use, e.g. ["D", "E", "F#"]
 */
export function noteName(note: Midi, spellings: readonly string[] = NO_SPELLINGS): string {
  return nameWith(spelledLetters(spellings), note);
}

/** `noteName` for many notes of one spelling. */
export function namer(spellings: readonly string[]): (note: Midi) => string {
  const letters = spelledLetters(spellings);
  return (note) => nameWith(letters, note);
}

function nameWith(letters: readonly SpelledLetter[], note: Midi): string {
  const whole = Math.round(note);
  const { letter, accidental, names } = letters[pitchClass(whole)] ?? NO_LETTER;
  // B# sounds in the octave above the one it is written in, Cb in the one below.
  const octave = Math.floor((whole - accidental) / 12) - 1;
  return names[octave] ?? `${letter}${octave}`;
}

/** As `noteName`, without the octave. */
export function letterName(note: number, spellings: readonly string[] = NO_SPELLINGS): string {
  return spelledLetters(spellings)[pitchClass(Math.round(note))]?.letter ?? "C";
}

interface SpelledLetter {
  readonly letter: string;
  /** Semitones the accidentals add to the letter. */
  readonly accidental: number;
  /** The letter with the octaves of the sounding range, by octave number. */
  readonly names: readonly string[];
}

const NO_LETTER: SpelledLetter = { letter: "C", accidental: 0, names: [] };
const OCTAVE_NUMBERS = Array.from({ length: 10 }, (_, octave) => octave);

const NO_SPELLINGS: readonly string[] = [];
/** The twelve names of a spelling, worked out once: whole harps are named with the same few spellings. */
const lettersOfSpelling = new WeakMap<readonly string[], readonly SpelledLetter[]>();

function spelledLetters(spellings: readonly string[]): readonly SpelledLetter[] {
  const known = lettersOfSpelling.get(spellings);
  if (known !== undefined) return known;
  const flats = spellings.some((name) => name.slice(1).includes("b"));
  const letters = KEY_NAMES.map((flat, wanted) => {
    const fallback = (flats ? flat : SHARP_NAMES[wanted]) ?? "C";
    const letter = spellings.find((name) => pitchClassOfName(name) === wanted) ?? fallback;
    const accidental = [...letter.slice(1)].reduce((sum, sign) => sum + (sign === "#" ? 1 : -1), 0);
    return { letter, accidental, names: OCTAVE_NUMBERS.map((octave) => `${letter}${octave}`) };
  });
  lettersOfSpelling.set(spellings, letters);
  return letters;
}

/** MIDI number of a name with octave, e.g. "F#4"; null if it is not one. */
export function midiOfName(name: string): Midi | null {
  const value = Note.midi(name);
  return value === null || value === undefined ? null : midi(value);
}
