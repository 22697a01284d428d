import { quoted } from "../../reading/quoting.ts";
import type { Metre, TuneField } from "../tune.ts";
import { fieldValue, type TuneLine, tuneLines, withoutComment } from "./body-lines.ts";
import { LETTER_SIGNS } from "./decorations.ts";
import { type Read, readMetre, readUnitLength } from "./field-values.ts";
import { type KeyField, readKey } from "./key-field.ts";
import type { Slip } from "./music-tokens.ts";
import { readPartOrder } from "./part-order.ts";
import { readTempo, type TempoField } from "./tempo-field.ts";
import { textOf } from "./text-string.ts";

/** How long an accidental holds: for its note, its note in one octave, or in all (ABC 2.1, 11.3). */
export type Propagation = "not" | "octave" | "pitch";

/** What stands before the music. */
export interface AbcHeader {
  number: number | null;
  titles: string[];
  fields: TuneField[];
  rhythm: string | null;
  metre: Metre | null;
  /** Semibreves; null where L: is missing. */
  unitLength: number | null;
  tempo: TempoField | null;
  key: KeyField | null;
  partOrder: readonly string[] | null;
  /** Voices in the order V: names them, with what is said of their pitch. */
  voices: Map<string, KeyField | null>;
  symbols: Map<string, string>;
  propagation: Propagation;
}

/** Fields kept for people, by letter (ABC 2.1, 3.1). */
const KEPT: Readonly<Record<string, string>> = {
  A: "area",
  B: "book",
  C: "composer",
  D: "discography",
  F: "file",
  G: "group",
  H: "history",
  N: "notes",
  O: "origin",
  S: "source",
  Z: "transcription",
};

/** Read by us or of no meaning for playing: words, symbol lines, remarks. */
const WITHOUT_REMARK = new Set(["w", "W", "s", "r"]);

const PROPAGATION = /^propagate-accidentals\s+(not|octave|pitch)\b/;

export interface HeaderRead {
  readonly header: AbcHeader;
  /** Lines of the body: those after K:. Null where there is no K:. */
  readonly body: readonly TuneLine[] | null;
  readonly slips: readonly Slip[];
  /** Why the tune cannot be read, if so. */
  readonly fault: Slip | null;
}

function emptyHeader(): AbcHeader {
  return {
    number: null,
    titles: [],
    fields: [],
    rhythm: null,
    metre: null,
    unitLength: null,
    tempo: null,
    key: null,
    partOrder: null,
    voices: new Map(),
    symbols: new Map(LETTER_SIGNS),
    propagation: "pitch",
  };
}

/** Reads the fields of the file's header, then the tune's up to its first K: (ABC 2.1, 2.2.1 and 2.2.2). */
export function readHeader(fileHeader: string, text: string): HeaderRead {
  const header = emptyHeader();
  for (const { text: line, kind } of tuneLines(fileHeader)) {
    if (kind === "directive") readDirective(header, line.slice(2));
    // Of one tune only, wherever they stand.
    else if (kind === "field" && !/^[XTK]:/.test(line)) readField(header, line.charAt(0), fieldValue(line));
  }
  const lines = tuneLines(text);
  const slips: Slip[] = [];
  const heard = new Set<string>();
  let last = "";
  for (const [index, line] of lines.entries()) {
    const letter = line.kind === "field" ? line.text.charAt(0) : "";
    const said = readLine(header, line, last);
    if (letter === "K") {
      return {
        header,
        body: lines.slice(index + 1),
        slips,
        fault: said === null ? null : { at: line.offset, words: said },
      };
    }
    if (said !== null && !heard.has(said)) slips.push({ at: line.offset, words: said });
    if (said !== null) heard.add(said);
    if (letter !== "") last = letter;
  }
  const fault = { at: 0, words: "the tune has no line K:, so it cannot be told where its music begins" };
  return { header, body: null, slips, fault };
}

/** What is wrong with a field or directive before the first tune; null if nothing. */
export function faultOfHeaderLine(line: string): string | null {
  if (line.startsWith("%%")) return readDirective(emptyHeader(), line.slice(2));
  const letter = line.charAt(0);
  if ("TK".includes(letter))
    return `the line ${letter}: before the first X: belongs to no tune and is left out`;
  return readField(emptyHeader(), letter, fieldValue(line));
}

/** @returns what is wrong with the line; null if nothing */
function readLine(header: AbcHeader, { text, kind }: TuneLine, last: string): string | null {
  if (kind === "comment") return null;
  if (kind === "directive") return readDirective(header, text.slice(2));
  if (kind === "field") return readField(header, text.charAt(0), fieldValue(text));
  // "+:" carries a field on (3.3); so does a bare line under H: in older files (10.1).
  const carried = kind === "continued" ? fieldValue(text) : last === "H" ? text : null;
  if (carried !== null && carryOn(header, last, carried)) return null;
  return `${quoted(text)} is no field and is left out`;
}

function carryOn(header: AbcHeader, letter: string, text: string): boolean {
  if (letter === "T") {
    const title = header.titles.pop();
    if (title === undefined) return false;
    header.titles.push(`${title} ${textOf(text)}`);
    return true;
  }
  const field = header.fields.at(-1);
  if (field === undefined || field.kind !== KEPT[letter]) return WITHOUT_REMARK.has(letter);
  header.fields[header.fields.length - 1] = {
    kind: field.kind,
    text: `${field.text} ${textOf(text)}`,
  };
  return true;
}

/** Takes one field in. @returns what is wrong with it; null if nothing */
export function readField(header: AbcHeader, letter: string, value: string): string | null {
  const kept = KEPT[letter];
  if (kept !== undefined) {
    if (value !== "") header.fields.push({ kind: kept, text: textOf(value) });
    return null;
  }
  const reader = READERS[letter];
  if (reader !== undefined) return reader(header, value);
  return WITHOUT_REMARK.has(letter) ? null : `the field ${letter}: is not known and is left out`;
}

type FieldReader = (header: AbcHeader, value: string) => string | null;

const READERS: Readonly<Record<string, FieldReader>> = {
  X: (header, value) => {
    if (!/^\d{1,9}$/.test(value)) return value === "" ? null : `X:${quoted(value)} is no number`;
    header.number = Number(value);
    return null;
  },
  T: (header, value) => {
    if (value !== "") header.titles.push(textOf(value));
    return null;
  },
  R: (header, value) => {
    header.rhythm = value === "" ? null : textOf(value);
    return null;
  },
  M: (header, value) => taken(readMetre(value), (metre) => (header.metre = metre)),
  L: (header, value) => taken(readUnitLength(value), (length) => (header.unitLength = length)),
  Q: (header, value) => taken(readTempo(value), (tempo) => (header.tempo = tempo)),
  // Without a key there is no tune, so there is nothing to leave it out of.
  K: (header, value) => {
    const key = readKey(value);
    if (key.kind === "unreadable") return key.reason;
    header.key = key.value;
    return null;
  },
  P: (header, value) =>
    taken(readPartOrder(value), (order) => (header.partOrder = order.length === 0 ? null : order)),
  V: (header, value) => {
    const { name, properties } = voiceField(value);
    header.voices.set(name, properties);
    return null;
  },
  U: (header, value) => readSymbol(header, value),
  I: (header, value) => readDirective(header, value),
  m: () => "macros (m:) are not played out: the field is left out",
};

function taken<T>(result: Read<T>, take: (value: T) => void): string | null {
  if (result.kind === "unreadable") return `${result.reason}; it is left out`;
  take(result.value);
  return null;
}

/** Name of a voice and what its properties say of pitch (ABC 2.1, 7.1). */
export function voiceField(value: string): { readonly name: string; readonly properties: KeyField | null } {
  const [name = "", ...words] = value.trim().split(/\s+/);
  const said = words.filter((word) =>
    /^(clef=)?(treble|alto|tenor|bass)\d?[+-]8$|^(octave|transpose|t)=/i.test(word),
  );
  const properties = said.length === 0 ? null : readKey(said.join(" "));
  return { name, properties: properties?.kind === "value" ? properties.value : null };
}

/** U: "T = !trill!"; "!nil!" and "!none!" take a letter's meaning away (4.16). */
function readSymbol(header: AbcHeader, value: string): string | null {
  const [, letter = "", sign = ""] = /^([H-Wh-w~])\s*=\s*[!+]?([^!+]*)[!+]?$/.exec(value) ?? [];
  if (letter === "") return `U:${quoted(value)} defines no decoration and is left out`;
  header.symbols.set(letter, /^(nil|none)$/i.test(sign.trim()) ? "" : sign.trim());
  return null;
}

/** Directives that concern looks, sound or other programs: nothing a tune in playing order could show. */
export function readDirective(header: AbcHeader, text: string): string | null {
  const words = withoutComment(text).trim().replace(/=/, " ");
  const propagation = PROPAGATION.exec(words)?.[1];
  if (propagation === "not" || propagation === "octave" || propagation === "pitch") {
    header.propagation = propagation;
    return null;
  }
  const copyright = /^abc-copyright\s+(.+)$/.exec(words)?.[1];
  if (copyright !== undefined) {
    header.fields.push({ kind: "copyright", text: textOf(copyright) });
    return null;
  }
  const name = /^\S+/.exec(words)?.[0] ?? "";
  return name === "" || IGNORED.test(name) ? null : `the directive ${quoted(name)} is not obeyed`;
}

/** Say nothing about how a tune is played: charset, version, creator, line breaks, and where comments are used as rules. */
const IGNORED =
  /^(abc-(charset|version|creator|include|edited-by)|linebreak|decoration|text|center|begintext|endtext|sep|vskip|newpage|scale|pagewidth|pageheight|staffwidth|(top|bot|left|right)margin|.*font|.*space|landscape|straightflags|graceslurs|measurenb|barnumbers|barsperstaff|printtempo|titleleft|stretchlast|%.*)$/;
