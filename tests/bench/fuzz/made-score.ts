import type { Random } from "../../../core/exercise/seeded-random.ts";
import { below, EDGE_NUMBERS, HOSTILE_WORDS, oneOf } from "./chance.ts";

/** Elements of MusicXML 4.0 that the reader knows, and what may stand in them; anything may stand in the others. */
const WITHIN: Readonly<Record<string, readonly string[]>> = {
  "score-partwise": ["work", "movement-title", "identification", "part-list", "part", "credit"],
  "score-timewise": ["part-list", "measure"],
  work: ["work-title", "work-number"],
  identification: ["creator", "rights", "source", "encoding"],
  credit: ["credit-type", "credit-words"],
  "part-list": ["score-part", "part-group"],
  "score-part": ["part-name", "score-instrument"],
  part: ["measure"],
  measure: [
    "attributes",
    "note",
    "note",
    "note",
    "note",
    "backup",
    "forward",
    "barline",
    "direction",
    "harmony",
    "sound",
  ],
  attributes: ["divisions", "key", "time", "transpose", "clef", "measure-style", "staves"],
  key: ["fifths", "mode", "cancel"],
  time: ["beats", "beat-type", "senza-misura"],
  transpose: ["diatonic", "chromatic", "octave-change"],
  note: [
    "pitch",
    "duration",
    "voice",
    "type",
    "dot",
    "tie",
    "chord",
    "grace",
    "rest",
    "notations",
    "lyric",
    "time-modification",
    "cue",
  ],
  pitch: ["step", "alter", "octave"],
  notations: ["tied", "ornaments", "articulations", "slur", "tuplet"],
  ornaments: ["trill-mark", "turn", "mordent", "constructor"],
  lyric: ["text", "syllabic"],
  backup: ["duration"],
  forward: ["duration"],
  barline: ["bar-style", "repeat", "ending"],
  direction: ["direction-type", "sound"],
  "direction-type": ["words", "metronome", "segno", "coda"],
  metronome: ["beat-unit", "per-minute", "beat-unit-dot"],
  harmony: ["root", "kind", "bass", "degree"],
  root: ["root-step", "root-alter"],
};
const ATTRIBUTES = [
  "id",
  "number",
  "type",
  "times",
  "direction",
  "implicit",
  "tempo",
  "segno",
  "coda",
  "dalsegno",
  "dacapo",
  "fine",
  "text",
  "constructor",
];
const WORDS = [
  "A",
  "C",
  "4",
  "8",
  "quarter",
  "eighth",
  "start",
  "stop",
  "backward",
  "forward",
  "P1",
  "1",
  "2",
  "1,2",
  "yes",
  "major",
  "minor",
  "G7",
];
const DEEPEST = 9;

/** A score whose elements stand where they may, mostly, with contents and attributes of chance. */
export function madeScore(random: Random): string {
  const root = random() < 0.93 ? "score-partwise" : oneOf(random, Object.keys(WITHIN));
  return `<?xml version="1.0" encoding="UTF-8"?>${doctype(random)}\n${element(random, root, 0)}`;
}

/** A document type as programs write it, or one that wants entities, from within or from elsewhere. */
function doctype(random: Random): string {
  const turn = random();
  if (turn < 0.9) return "";
  if (turn < 0.94)
    return '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">';
  if (turn < 0.97) return '<!DOCTYPE score-partwise [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]>';
  return '<!DOCTYPE score-partwise [<!ENTITY x SYSTEM "file:///etc/passwd">]>';
}

function element(random: Random, name: string, depth: number): string {
  const attributes = random() < 0.25 ? ` ${oneOf(random, ATTRIBUTES)}="${escaped(content(random))}"` : "";
  const id = name === "part" || name === "score-part" ? ' id="P1"' : "";
  const inner = Object.hasOwn(WITHIN, name) ? WITHIN[name] : undefined;
  if (inner === undefined || depth > DEEPEST)
    return `<${name}${id || attributes}>${escaped(usual(random, name))}</${name}>`;
  const least = name === "part" || name === "measure" ? 4 : 1;
  const names = Array.from({ length: least + below(random, inner.length + 1) }, () =>
    random() < 0.97 ? oneOf(random, inner) : oneOf(random, Object.keys(WITHIN)),
  );
  const must = (Object.hasOwn(MUST, name) ? MUST[name] : undefined) ?? [];
  return `<${name}${id || attributes}>${[...must, ...names].map((one) => element(random, one, depth + 1)).join("")}</${name}>`;
}

/** Without these nearly every score would be refused at once. */
const MUST: Readonly<Record<string, readonly string[]>> = {
  "score-partwise": ["part-list"],
  "part-list": ["score-part"],
  attributes: ["divisions"],
  note: ["pitch", "duration"],
  pitch: ["step", "octave"],
};

const USUAL: Readonly<Record<string, readonly string[]>> = {
  divisions: ["1", "2", "4", "480", "0", "1000000", "0.5"],
  duration: ["1", "2", "3", "4", "8", "0", "999999999", "0.001"],
  step: ["A", "B", "C", "D", "E", "F", "G", "H"],
  octave: ["3", "4", "5", "6", "9", "-1"],
  alter: ["1", "-1", "2", "0.5"],
  fifths: ["0", "1", "-3", "7", "8"],
  beats: ["4", "3", "6", "2+3", "0", "99"],
  "beat-type": ["4", "8", "2", "3", "0"],
};

const usual = (random: Random, name: string): string => {
  const known = Object.hasOwn(USUAL, name) ? USUAL[name] : undefined;
  return random() < 0.9 && known !== undefined ? oneOf(random, known) : content(random);
};

function content(random: Random): string {
  const turn = random();
  if (turn < 0.6) return oneOf(random, WORDS);
  return turn < 0.8 ? String(oneOf(random, EDGE_NUMBERS)) : oneOf(random, HOSTILE_WORDS);
}

/** Mostly as XML wants it; now and then as it is. */
const escaped = (text: string): string =>
  text.length % 17 === 16 ? text : text.replace(/[&<>"]/g, "+").replace(/[\p{Cc}\p{Cs}]/gu, " ");
