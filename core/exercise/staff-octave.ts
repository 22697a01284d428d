import type { Midi } from "../units.ts";

const OCTAVE = 12;
/** First ledger lines under and over a treble staff: C4 and A5; each further one about a third away. */
const [LINE_UNDER, LINE_OVER] = [60, 81];
const SEMITONES_A_LINE = 3;
/** More ledger lines than this to a note are not read at speed: common practice, no source. */
const MOST_LINES = 1;
const NEAREST_FIRST = [0, 1, -1, 2, -2, 3, -3];

/**
 * How many octaves lower than they sound notes are written so that they lie on the staff: as few as do, 0 where they lie so as
 * they are, negative for notes written higher.
 */
export function staffOctaves(notes: readonly Midi[]): number {
  if (notes.length === 0) return 0;
  const lines = NEAREST_FIRST.map((octaves) => linesANote(notes, octaves));
  const enough = lines.findIndex((one) => one <= MOST_LINES);
  return NEAREST_FIRST[enough < 0 ? lines.indexOf(Math.min(...lines)) : enough] ?? 0;
}

/** Ledger lines to a note, on average. */
function linesANote(notes: readonly Midi[], lowered: number): number {
  const lines = notes.reduce((sum, note) => sum + ledgerLines(note - OCTAVE * lowered), 0);
  return lines / notes.length;
}

function ledgerLines(note: number): number {
  const beyond = Math.max(LINE_UNDER - note, note - LINE_OVER);
  return beyond < 0 ? 0 : 1 + Math.floor(beyond / SEMITONES_A_LINE);
}

/** "sounds an octave higher"; empty where notes are written as they sound. */
export function staffOctaveWords(octaves: number): string {
  if (octaves === 0) return "";
  const count = Math.abs(octaves) === 1 ? "an octave" : `${Math.abs(octaves)} octaves`;
  return `sounds ${count} ${octaves > 0 ? "higher" : "lower"}`;
}

/** The clef that says the same on every line, as a word of a K: field; empty where there is none of that name. */
export function staffClef(octaves: number): string {
  if (octaves === 1) return " clef=treble+8";
  return octaves === -1 ? " clef=treble-8" : "";
}
