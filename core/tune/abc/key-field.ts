import type { SevenMode } from "../../pitch/modes.ts";
import { quoted } from "../../reading/quoting.ts";
import { accidentalOf, IN_ORDER_OF_SHARPS, type Letter, MODE_FIFTHS } from "../key-signature.ts";
import type { TuneKey } from "../tune.ts";
import { type Read, read, unreadable } from "./field-values.ts";

export const LETTERS: readonly Letter[] = ["C", "D", "E", "F", "G", "A", "B"];

/** What a K: or V: field says of pitch. */
export interface KeyField {
  /** Null where the field says nothing of the key, only of the clef. */
  readonly key: WrittenKey | null;
  /** Semitones everything sounds above what is written; null where not said. */
  readonly octaves: number | null;
  readonly transpose: number | null;
}

export interface WrittenKey {
  /** Null for "none", and for signatures listed without a tonic. */
  readonly tonic: string | null;
  readonly mode: SevenMode | null;
  readonly signature: TuneKey["signature"];
}

/** Modes by their first three letters (ABC 2.1, 3.1.14). */
const MODES: Readonly<Record<string, SevenMode>> = {
  maj: "major",
  ion: "major",
  mix: "mixolydian",
  dor: "dorian",
  m: "minor",
  min: "minor",
  aeo: "minor",
  phr: "phrygian",
  loc: "locrian",
  lyd: "lydian",
};

const FLATS: readonly Letter[] = [...IN_ORDER_OF_SHARPS].reverse();

const SIGNS: Readonly<Record<string, number>> = { "^": 1, "^^": 2, _: -1, __: -2, "=": 0 };
const CLEF = /^(clef=)?(treble|alto|tenor|bass|perc|none|auto)(\d)?([+-]8)?$/i;
const ACCIDENTALS = /^((\^{1,2}|_{1,2}|=)[A-Ga-g])+$/;
const MOST_OCTAVES = 4;

/**
 * Reads K: (or the properties of V:, which say the same of clefs): tonic, mode, extra accidentals, "exp", "none", "HP", "Hp",
 * clef with octave= and transpose= (ABC 2.1, 3.1.14, 4.6).
 */
export function readKey(text: string): Read<KeyField> {
  const words = text.trim().split(/\s+/).filter(Boolean);
  const clef = clefOf(words);
  const rest = words.filter((word) => !isClefWord(word) || (word === words[0] && /^none$/i.test(word)));
  const first = rest[0];
  if (first === undefined) return read({ key: words.length === 0 ? NO_KEY : null, ...clef });
  if (/^none$/i.test(first)) return read({ key: withAccidentals(NO_KEY, rest.slice(1)), ...clef });
  if (first === "HP" || first === "Hp") return read({ key: PIPES, ...clef });
  if (ACCIDENTALS.test(first)) return read({ key: withAccidentals(NO_KEY, rest), ...clef });
  const tonic = /^([A-Ga-g])([#b♯♭]?)(.*)$/.exec(first);
  const named = tonic === null ? null : tonicKey(tonic, rest.slice(1));
  if (named === null) return unreadable(`K:${quoted(text.trim())} is no key`);
  return read({ key: named, ...clef });
}

const NO_KEY: WrittenKey = { tonic: null, mode: null, signature: {} };
/**
 * F and C sharp, G natural, as the pipes sound: HP only leaves the signature off the staff, as their players know it, and Hp
 * draws it (3.1.14). abc2midi 4.84 plays both so.
 */
const PIPES: WrittenKey = { tonic: null, mode: null, signature: { F: 1, C: 1 } };

/** The key of a tonic with what is glued to it and what follows; null if the word is no tonic after all. */
function tonicKey(parts: RegExpExecArray, after: readonly string[]): WrittenKey | null {
  const [, letterText = "", sign = "", glued = ""] = parts;
  const words = glued === "" ? after : [glued, ...after];
  const word = words[0] ?? "";
  const explicit = words.some((one) => /^exp$/i.test(one));
  const mode = modeOf(word);
  // A word that is none of the modes is an unknown clef (4.6), but not when it is glued to what would be a tonic.
  if (mode === null && glued !== "" && !explicit && !ACCIDENTALS.test(glued)) return null;
  const letter = LETTERS.find((one) => one === letterText.toUpperCase());
  if (letter === undefined) return null;
  if (letterText !== letter && mode === null && glued !== "") return null;
  const flatOrSharp = sign === "#" || sign === "♯" ? 1 : sign === "" ? 0 : -1;
  const tonic = `${letter}${flatOrSharp === 1 ? "#" : flatOrSharp === -1 ? "b" : ""}`;
  if (explicit) return withAccidentals({ ...NO_KEY, tonic }, words);
  const named = mode ?? "major";
  return withAccidentals({ tonic, mode: named, signature: signatureOf(tonic, named) }, words);
}

/** Only the first three letters count, and capitals do not (ABC 2.1, 3.1.14). */
function modeOf(word: string): SevenMode | null {
  if (!/^[A-Za-z]+$/.test(word)) return null;
  return MODES[word.toLowerCase().slice(0, 3)] ?? null;
}

/** The signature of a mode on a tonic such as "Bb", beyond seven sharps or flats too, as a key line may ask for. */
export function signatureOf(tonic: string, mode: SevenMode): TuneKey["signature"] {
  const place = "FCGDAEB".indexOf(tonic.charAt(0));
  return altered(place - 1 + 7 * accidentalOf(tonic) + MODE_FIFTHS[mode]);
}

/** Letters a signature so many fifths above C alters. */
function altered(fifths: number): TuneKey["signature"] {
  const order = fifths < 0 ? FLATS : IN_ORDER_OF_SHARPS;
  const signature: Partial<Record<Letter, number>> = {};
  for (let at = 0; at < Math.abs(fifths); at++) {
    const letter = order[at % 7] ?? "F";
    signature[letter] = (signature[letter] ?? 0) + Math.sign(fifths);
  }
  return signature;
}

function withAccidentals(key: WrittenKey, words: readonly string[]): WrittenKey {
  const signature: Partial<Record<Letter, number>> = { ...key.signature };
  for (const word of words.filter((one) => ACCIDENTALS.test(one))) {
    for (const [, sign = "", name = ""] of word.matchAll(/(\^{1,2}|_{1,2}|=)([A-Ga-g])/g)) {
      const letter = LETTERS.find((one) => one === name.toUpperCase());
      const alteration = SIGNS[sign] ?? 0;
      if (letter === undefined) continue;
      if (alteration === 0) delete signature[letter];
      else signature[letter] = alteration;
    }
  }
  return { ...key, signature };
}

const isClefWord = (word: string): boolean =>
  CLEF.test(word) || (word.includes("=") && !ACCIDENTALS.test(word));

/** What clef words say of sounding pitch: octave=, transpose= or t=, and the 8 above or below a clef (4.6). */
function clefOf(words: readonly string[]): Pick<KeyField, "octaves" | "transpose"> {
  let octaves: number | null = null;
  let transpose: number | null = null;
  for (const word of words) {
    const clef = CLEF.exec(word);
    if (clef?.[4] !== undefined) octaves = (octaves ?? 0) + (clef[4] === "+8" ? 1 : -1);
    const [, name, number] = /^(octave|transpose|t)=([+-]?\d+)$/i.exec(word) ?? [];
    if (name === undefined) continue;
    if (name.toLowerCase() === "octave") octaves = (octaves ?? 0) + within(Number(number), MOST_OCTAVES);
    else transpose = within(Number(number), 12 * MOST_OCTAVES);
  }
  return { octaves, transpose };
}

const within = (value: number, most: number): number => Math.max(-most, Math.min(most, value));
