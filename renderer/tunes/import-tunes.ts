import { decodeText } from "../../core/tune/abc/decode-text.ts";
import { readAbcTune } from "../../core/tune/abc/read-abc.ts";
import { splitAbc } from "../../core/tune/abc/split-abc.ts";
import type { BadTune, Place, ReadTunes, Tune } from "../../core/tune/tune.ts";
import { tuneLine } from "../../core/tune/tune-list.ts";
import { writeAbc } from "../../core/tune/write-abc.ts";
import type { KeptTune } from "../store/tune-store.ts";
import { tuneId } from "./tune-id.ts";
import type { TuneReport } from "./tune-messages.ts";

type Some = Extract<TuneReport, { kind: "some" }>;

/** So many tunes are reported, and kept, at once. */
const AT_ONCE = 200;

/** Reads the tunes of a file, some at a time. @throws Error in one sentence where nothing of it can be read */
export function* importTunes(name: string, bytes: Uint8Array): Generator<Some> {
  const pieces = splitAbc(decodeText(bytes));
  if (pieces.kind === "unreadable") throw new Error(`${name}: ${pieces.reason}`);
  const of = pieces.tunes.length;
  let [tunes, leftOut]: [KeptTune[], string[]] = [[], []];
  for (const [index, piece] of pieces.tunes.entries()) {
    const read = readAbcTune(pieces.header, piece);
    if (read.kind === "tune") tunes.push(kept(read.tune, withHeader(pieces.header, piece.text), name));
    else leftOut.push(inWords(read.bad));
    if (tunes.length + leftOut.length < AT_ONCE && index < of - 1) continue;
    yield { kind: "some", tunes, leftOut, done: index + 1, of };
    [tunes, leftOut] = [[], []];
  }
}

/** Tunes read from another notation, kept as ABC. */
export function asKept(book: Extract<ReadTunes, { kind: "tunes" }>, name: string): readonly KeptTune[] {
  return book.tunes.map((tune) => kept(tune, writeAbc(tune), name));
}

export function kept(tune: Tune, abc: string, from: string): KeptTune {
  return { ...tuneLine(tune), id: tuneId(abc), from, abc };
}

/** What stood before the first tune holds for each; it goes behind the tune's own X:, which has to be first. */
function withHeader(header: string, text: string): string {
  if (header === "") return text;
  const first = text.indexOf("\n");
  return first < 0 ? text : `${text.slice(0, first)}\n${header}${text.slice(first)}`;
}

/** "tune 12 (The Wet Field Home), line 340, column 5: what is wrong". */
export function inWords({ number, title, place, reason }: BadTune): string {
  const called = [number === null ? "a tune" : `tune ${number}`, title === null ? "" : ` (${title})`].join(
    "",
  );
  return `${called}${placeInWords(place)}: ${reason}`;
}

export const placeInWords = (place: Place | null): string =>
  place === null ? "" : `, line ${place.line}, column ${place.column}`;
