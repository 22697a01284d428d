import { beyond, LIMITS } from "../../core/reading/limits.ts";
import { decodeText } from "../../core/tune/abc/decode-text.ts";
import { readAbcTune } from "../../core/tune/abc/read-abc.ts";
import { splitAbc } from "../../core/tune/abc/split-abc.ts";
import { badTuneInWords } from "../../core/tune/bad-tune-words.ts";
import { readTunes, type TuneChoices, tuneFileKind } from "../../core/tune/read-tunes.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { tuneId } from "../../core/tune/tune-id.ts";
import { tuneLine } from "../../core/tune/tune-list.ts";
import { writeAbc } from "../../core/tune/write-abc.ts";
import type { KeptTune } from "../store/tune-store.ts";
import type { TuneReport } from "./tune-messages.ts";

type Some = Extract<TuneReport, { kind: "some" }>;

/** So many tunes are reported, and kept, at once. */
const AT_ONCE = 200;

/**
 * Reads the tunes of a file of any kind, some at a time.
 *
 * @throws Error in one sentence where nothing of it can be read
 */
export function* importTunes(name: string, bytes: Uint8Array, choices: TuneChoices = {}): Generator<Some> {
  if (tuneFileKind(bytes) === "ABC") yield* importAbc(name, bytes);
  else yield importOther(name, bytes, choices);
}

function* importAbc(name: string, bytes: Uint8Array): Generator<Some> {
  const pieces = splitAbc(decodeText(bytes));
  if (pieces.kind === "unreadable") throw new Error(`${name}: ABC: ${pieces.reason}`);
  const of = pieces.tunes.length;
  let [tunes, leftOut]: [KeptTune[], string[]] = [[], []];
  for (const [index, piece] of pieces.tunes.entries()) {
    const read = readAbcTune(pieces.header, piece);
    if (read.kind === "tune") tunes.push(kept(read.tune, withHeader(pieces.header, piece.text), name));
    else leftOut.push(badTuneInWords(read.bad));
    if (tunes.length + leftOut.length < AT_ONCE && index < of - 1) continue;
    yield { kind: "some", tunes, leftOut, done: index + 1, of };
    [tunes, leftOut] = [[], []];
  }
}

/** MusicXML and MIDI, kept as ABC; one tune a file. */
function importOther(name: string, bytes: Uint8Array, choices: TuneChoices): Some {
  const read = readTunes(bytes, choices);
  if (read.kind === "unreadable") throw new Error(`${name}: ${read.reason}`);
  const tunes = read.tunes.map((tune) => {
    const called = tune.title === UNTITLED ? { ...tune, title: withoutEnding(name) } : tune;
    return kept(called, keptAbc(called, name), name);
  });
  return { kind: "some", tunes, leftOut: read.bad.map(badTuneInWords), done: tunes.length, of: tunes.length };
}

/** @throws Error where the tune is longer than could be read again */
function keptAbc(tune: Tune, name: string): string {
  const abc = writeAbc(tune);
  if (abc.length > LIMITS.abcTuneCharacters.most)
    throw new Error(`${name}: written out, the tune has ${beyond(abc.length, LIMITS.abcTuneCharacters)}`);
  return abc;
}

/** What the readers call the only tune of a file that has no title. */
const UNTITLED = "Tune 1";
const withoutEnding = (name: string) => name.replace(/\.[^.]*$/, "") || name;

export function kept(tune: Tune, abc: string, from: string): KeptTune {
  return { ...tuneLine(tune), id: tuneId(abc), from, abc };
}

/** What stood before the first tune holds for each; it goes behind the tune's own X:, which has to be first. */
function withHeader(header: string, text: string): string {
  if (header === "") return text;
  const first = text.indexOf("\n");
  return first < 0 ? text : `${text.slice(0, first)}\n${header}${text.slice(first)}`;
}
