import { beyond, LIMITS } from "../reading/limits.ts";
import { quoted } from "../reading/quoting.ts";
import { type Cents, cents } from "../units.ts";
import { ratioCents } from "./ratios.ts";

/** A scale read from a Scala file. */
export interface ScalaScale {
  /** The file's description line, possibly empty. */
  readonly name: string;
  /** Pitches above the first note in cents; the first note itself is not among them, the last is the octave. */
  readonly steps: readonly Cents[];
}

export type ReadScale =
  | { readonly kind: "scale"; readonly scale: ScalaScale }
  | { readonly kind: "unreadable"; readonly reason: string };

/** What every reader must take; larger numbers make no interval a reed could be filed to. */
const LARGEST_TERM = 2 ** 31 - 1;
/** Cents beyond this are a slip: eight octaves. */
const MOST_CENTS = 9600;

interface Line {
  /** Counted from 1, comments included. */
  readonly number: number;
  readonly text: string;
}

/**
 * Reads a Scala scale file (.scl).
 *
 * Lines beginning with "!" are comments; then a description, the number of notes, and a pitch a line: cents if it has a
 * full stop, else a ratio or a whole number standing for n/1. What follows the pitch in its line is passed over.
 *
 * @returns the scale, or one line naming the line and what is wrong with it
 *
 * Source: "Scala scale file format", huygens-fokker.org/scala/scl_format.html.
 * Differs: text lines after the last pitch are an error, for they mean the number of notes is wrong; a scale without notes,
 * of more than 128, or not ending on an octave (within 50 cents) is refused, because a harmonica has no use for it.
 */
export function readScala(text: string): ReadScale {
  if (text.length > LIMITS.scalaCharacters.most)
    return unreadable(`the text has ${beyond(text.length, LIMITS.scalaCharacters)}`);
  const lines = text
    .replace(/^\uFEFF/, "")
    .split(/\r\n|\r|\n/)
    .map((line, index) => ({ number: index + 1, text: line }))
    .filter((line) => !line.text.startsWith("!"));
  const [description, countLine, ...rest] = lines;
  if (description === undefined || countLine === undefined) {
    return unreadable("ends before the number of notes; the description line comes first, even if empty");
  }
  const count = countOf(countLine);
  if (typeof count === "string") return unreadable(count);
  const pitches = readPitches(rest, count);
  if (typeof pitches === "string") return unreadable(pitches);
  return { kind: "scale", scale: { name: description.text.trim(), steps: pitches } };
}

function countOf(line: Line): number | string {
  const match = /^\s*(\d+)\s*$/.exec(line.text);
  if (match === null) return `line ${line.number}: expected the number of notes, not ${quoted(line.text)}`;
  const count = Number(match[1]);
  if (count < 1) return `line ${line.number}: the scale has no notes`;
  if (count > LIMITS.scalaNotes.most) return `line ${line.number}: ${beyond(count, LIMITS.scalaNotes)}`;
  return count;
}

function readPitches(lines: readonly Line[], count: number): readonly Cents[] | string {
  const last = lines.findLastIndex((line) => line.text.trim() !== "");
  const filled = lines.slice(0, last + 1);
  if (filled.length !== count) {
    return `says ${count} ${count === 1 ? "note" : "notes"} but lists ${filled.length}`;
  }
  const steps: Cents[] = [];
  for (const line of filled) {
    const step = pitchOf(line);
    if (typeof step === "string") return step;
    steps.push(step);
  }
  const octave = steps.at(-1) ?? 0;
  if (Math.abs(octave - 1200) > 50) {
    return `line ${filled.at(-1)?.number}: the last note lies at ${octave.toFixed(1)} cents; it must be the octave, 2/1`;
  }
  return steps;
}

function pitchOf(line: Line): Cents | string {
  const word = line.text.trim().split(/[ \t]/)[0] ?? "";
  const where = `line ${line.number}: ${quoted(line.text)}`;
  if (/^-?(\d+\.\d*|\.\d+)$/.test(word)) {
    const value = Number(word);
    return Math.abs(value) <= MOST_CENTS ? cents(value) : `${where} is more than ${MOST_CENTS} cents`;
  }
  // Spaces may stand around the slash.
  const match = /^\s*(\d+)(?:[ \t]*\/[ \t]*(\d+))?(?=[ \t]|$)/.exec(line.text);
  if (/^-/.test(word)) return `${where}: a ratio cannot be negative`;
  if (match === null) return `${where} is neither cents with a full stop nor a ratio`;
  const over = Number(match[1]);
  const under = match[2] === undefined ? 1 : Number(match[2]);
  if (over === 0 || under === 0) return `${where}: a ratio has no zero`;
  if (over > LARGEST_TERM || under > LARGEST_TERM)
    return `${where}: a number of a ratio is above ${LARGEST_TERM}`;
  return ratioCents({ over, under });
}

const unreadable = (reason: string): ReadScale => ({ kind: "unreadable", reason });
