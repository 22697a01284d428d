import { beyond, LIMITS } from "../../reading/limits.ts";
import type { Remark } from "../tune.ts";
import { withLineFeeds, withoutMark } from "./decode-text.ts";
import { MOST_REMARKS } from "./limits.ts";
import { faultOfHeaderLine } from "./read-header.ts";

/** One tune's own text, still unread. */
export interface AbcPiece {
  /** Place in its file, from 1. */
  readonly place: number;
  /** Line of the file its first line is, from 1. */
  readonly firstLine: number;
  /** Up to the empty line or the next X:, lines ended by line feeds. */
  readonly text: string;
  /** Line of the empty line that ended it, if more than another tune or the end follows there; else null. */
  readonly goesOnAt: number | null;
}

/** A file cut into its tunes. Each can be read alone, with the file's header. */
export interface AbcPieces {
  readonly kind: "pieces";
  /** Fields and directives before the first tune: they hold for every tune. */
  readonly header: string;
  readonly tunes: readonly AbcPiece[];
  /** Of the file's header. */
  readonly remarks: readonly Remark[];
}

export type SplitAbc = AbcPieces | { readonly kind: "unreadable"; readonly reason: string };

const FIELD = /^([A-Za-z]:|%%)/;

/**
 * Cuts a text into tunes without reading them: a tune begins with X: and ends with an empty line or the next X:
 * (ABC 2.1, 2.2.1). A text with no X: at all whose fields have a K: is one tune, as people paste them.
 */
export function splitAbc(given: string): SplitAbc {
  if (given.length > LIMITS.abcCharacters.most) {
    return {
      kind: "unreadable",
      reason: `the text has ${beyond(given.length, LIMITS.abcCharacters)}`,
    };
  }
  const text = withLineFeeds(withoutMark(given));
  const starts = tuneStarts(text);
  const first = starts[0];
  if (first === undefined) return withoutNumber(text);
  if (starts.length > LIMITS.abcTunes.most) {
    return {
      kind: "unreadable",
      reason: `the text has ${beyond(starts.length, LIMITS.abcTunes)}`,
    };
  }
  const header = fieldsOf(text.slice(0, first));
  const tunes: AbcPiece[] = [];
  let line = 1;
  let counted = 0;
  for (const [index, start] of starts.entries()) {
    line += linesIn(text, counted, start);
    counted = start;
    tunes.push(pieceOf(text.slice(start, starts[index + 1] ?? text.length), line, index + 1));
  }
  return { kind: "pieces", ...header, tunes };
}

/** Where lines begin with X:. */
function tuneStarts(text: string): readonly number[] {
  const starts = text.startsWith("X:") ? [0] : [];
  for (let at = text.indexOf("\nX:"); at >= 0; at = text.indexOf("\nX:", at + 3)) starts.push(at + 1);
  return starts;
}

function linesIn(text: string, from: number, to: number): number {
  let lines = 0;
  for (let at = text.indexOf("\n", from); at >= 0 && at < to; at = text.indexOf("\n", at + 1)) lines++;
  return lines;
}

/** Fields and directives of the text before the first tune; free text has no meaning (ABC 2.1, 2.2.3). */
function fieldsOf(text: string): Pick<AbcPieces, "header" | "remarks"> {
  const lines = text.split("\n").map((line, index) => ({ line, number: index + 1 }));
  const fields = lines.filter(({ line }) => FIELD.test(line));
  const remarks = fields.slice(0, MOST_REMARKS).flatMap(({ line, number }) => {
    const words = faultOfHeaderLine(line);
    return words === null ? [] : [{ place: { line: number, column: 1 }, words }];
  });
  return { header: fields.map(({ line }) => line).join("\n"), remarks };
}

const EMPTY_LINE = /\n[ \t]*(\n|$)/;

function pieceOf(text: string, firstLine: number, place: number): AbcPiece {
  const end = EMPTY_LINE.exec(text);
  if (end === null) return { place, firstLine, text, goesOnAt: null };
  const rest = text.slice(end.index + end[0].length);
  const own = text.slice(0, end.index);
  const goesOn = hasMusic(rest);
  return {
    place,
    firstLine,
    text: own,
    goesOnAt: goesOn ? firstLine + linesIn(own, 0, own.length) + 1 : null,
  };
}

/** As much of what follows a tune as is looked at, and of each line. */
const LOOKED_AT = 20_000;
const OF_A_LINE = 300;

/** A line with notes before a bar line: music someone meant to be read, not free text. */
function hasMusic(text: string): boolean {
  return text
    .slice(0, LOOKED_AT)
    .split("\n")
    .some(
      (line) => !FIELD.test(line) && !line.startsWith("%") && NOTES_AND_BAR.test(line.slice(0, OF_A_LINE)),
    );
}

const NOTES_AND_BAR = /[A-Ga-gz][,'\d/]{0,8} ?:?\|/;

function withoutNumber(text: string): SplitAbc {
  const lines = text.split("\n");
  const first = lines.findIndex((line) => /^[A-Z]:/.test(line));
  const key = lines.findIndex((line) => line.startsWith("K:"));
  if (first < 0 || key < 0) {
    return {
      kind: "unreadable",
      reason: "there is no tune in this text: a tune begins with a line X: and has a K:",
    };
  }
  const header = fieldsOf(lines.slice(0, first).join("\n"));
  const piece = pieceOf(lines.slice(first).join("\n"), first + 1, 1);
  return { kind: "pieces", ...header, tunes: [piece] };
}
