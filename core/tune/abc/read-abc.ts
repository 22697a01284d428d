import { beyond, LIMITS, moreThan, withCommas } from "../../reading/limits.ts";
import { quoted } from "../../reading/quoting.ts";
import { ANY_TEMPO, type TuneDance, USUAL_TEMPI } from "../dances.ts";
import { type PlayedOut, playOut } from "../play-out.ts";
import type { BadTune, Place, ReadTunes, Remark, Tune } from "../tune.ts";
import { fieldValue } from "./body-lines.ts";
import { usualUnitLength } from "./field-values.ts";
import { MOST_REMARKS } from "./limits.ts";
import type { Slip } from "./music-tokens.ts";
import { parseNotes } from "./parse-notes.ts";
import { type AbcHeader, type HeaderRead, readField, readHeader } from "./read-header.ts";
import { type MusicRead, readMusic } from "./read-music.ts";
import { danceOfMetre, danceOfRhythm } from "./rhythm-field.ts";
import { scanBody, voicesOf } from "./scan-body.ts";
import { type AbcPiece, splitAbc } from "./split-abc.ts";
import { type TempoField, tempoOf } from "./tempo-field.ts";
import { tuneKey } from "./tune-key.ts";

export interface AbcChoices {
  /** Name of the voice (V:) to read, the first if not given; a tune without a voice of this name is a bad one. */
  readonly voice?: string;
}

export type ReadAbcTune =
  | { readonly kind: "tune"; readonly tune: Tune }
  | { readonly kind: "bad"; readonly bad: BadTune };

/**
 * Reads all tunes of an ABC 2.1 text, played out. One bad tune never loses the others.
 *
 * @param text as `decodeText` gives it; other line ends do no harm
 */
export function readAbc(text: string, choices: AbcChoices = {}): ReadTunes {
  const pieces = splitAbc(text);
  if (pieces.kind === "unreadable") return pieces;
  const tunes: Tune[] = [];
  const bad: BadTune[] = [];
  for (const piece of pieces.tunes) {
    const read = readAbcTune(pieces.header, piece, choices);
    if (read.kind === "tune") tunes.push(read.tune);
    else bad.push(read.bad);
  }
  return { kind: "tunes", tunes, bad, remarks: pieces.remarks };
}

/**
 * Reads one tune of a text that `splitAbc` has cut, alone: what it gives depends on nothing else.
 *
 * @param fileHeader the `header` of the cut text
 */
export function readAbcTune(fileHeader: string, piece: AbcPiece, choices: AbcChoices = {}): ReadAbcTune {
  const placeAt = placesIn(piece);
  if (piece.text.length > LIMITS.abcTuneCharacters.most) {
    const words = `the tune has ${beyond(piece.text.length, LIMITS.abcTuneCharacters)}`;
    const { header } = readHeader("", piece.text.slice(0, 1000));
    return badTune(header, { at: 0, words }, placeAt);
  }
  const read = readHeader(fileHeader, piece.text);
  if (read.body === null || read.fault !== null) {
    return badTune(read.header, read.fault ?? { at: 0, words: "the tune has no music" }, placeAt);
  }
  return readBody(read, read.body, { piece, choices, placeAt });
}

/**
 * Names of the voices of a tune, in the order they come: what can be chosen of.
 *
 * @returns empty where the tune has but one and no name for it
 */
export function voicesOfAbc(fileHeader: string, piece: AbcPiece): readonly string[] {
  if (piece.text.length > LIMITS.abcTuneCharacters.most) return [];
  const { header, body } = readHeader(fileHeader, piece.text);
  return voicesOf([...header.voices.keys()], body ?? []);
}

type PlaceAt = (at: number) => Place;

/** Line and column, in the file, of a character of the tune. */
function placesIn({ text, firstLine }: AbcPiece): PlaceAt {
  const starts = [0];
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) starts.push(at + 1);
  return (at) => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if ((starts[middle] ?? 0) <= at) low = middle;
      else high = middle - 1;
    }
    return { line: firstLine + low, column: at - (starts[low] ?? 0) + 1 };
  };
}

function badTune(header: AbcHeader, fault: Slip, placeAt: PlaceAt): ReadAbcTune {
  const { number, titles } = header;
  return {
    kind: "bad",
    bad: { number, title: titles[0] ?? null, place: placeAt(fault.at), reason: fault.words },
  };
}

interface Context {
  readonly piece: AbcPiece;
  readonly choices: AbcChoices;
  readonly placeAt: PlaceAt;
}

function readBody(read: HeaderRead, body: NonNullable<HeaderRead["body"]>, context: Context): ReadAbcTune {
  const { header } = read;
  const { piece, placeAt } = context;
  for (const { kind, text } of body) {
    if (kind === "field" && text.startsWith("U:")) readField(header, "U", fieldValue(text));
  }
  const voices = voicesOf([...header.voices.keys()], body);
  const first = voices[0] ?? null;
  const { voice: wanted } = context.choices;
  if (wanted !== undefined && !voices.includes(wanted)) {
    return badTune(header, { at: 0, words: noSuchVoice(wanted, voices) }, placeAt);
  }
  const voice = wanted ?? first;
  const scanned = scanBody(body, { length: piece.text.length, symbols: header.symbols, voice, first });
  const notes = parseNotes(scanned.notes);
  if (notes === null) return badTune(header, { at: 0, words: "the music could not be read" }, placeAt);
  const ofVoice = voice === null ? null : (header.voices.get(voice) ?? null);
  const music = readMusic(scanned.tokens, notes, header, { voice: ofVoice, placeAt });
  if (music.fault !== null) return badTune(header, music.fault, placeAt);
  const played = playOut(
    { bars: music.bars, partOrder: header.partOrder },
    { bars: LIMITS.tuneBars.most, notes: LIMITS.tuneNotes.most },
  );
  if (played.kind === "too long") {
    const most = played.what === "bars" ? LIMITS.tuneBars : LIMITS.tuneNotes;
    return badTune(header, { at: 0, words: `played out, the tune has ${moreThan(most)}` }, placeAt);
  }
  if (played.notes.length === 0) return badTune(header, { at: 0, words: withoutNotes(piece) }, placeAt);
  const slips = [...read.slips, ...scanned.slips, ...music.slips].sort((a, b) => a.at - b.at);
  const transpose = ofVoice?.transpose ?? header.key?.transpose ?? 0;
  const general = [...voicesLeftOut(voices, voice), ...played.troubles, ...untitled(header, piece)];
  return {
    kind: "tune",
    tune: tuneOf(header, music, played, { piece, transpose, remarks: remarksOf(slips, general, placeAt) }),
  };
}

const withoutNotes = ({ goesOnAt }: AbcPiece): string =>
  goesOnAt === null
    ? "the tune has no notes"
    : `the tune has no notes before the empty line ${goesOnAt}, which ends it`;

/** Told of a tune that has not the voice asked for. */
export const noSuchVoice = (wanted: string, voices: readonly string[]): string =>
  voices.length === 0
    ? `no voice is called ${quoted(wanted)}; the tune has but one, without a name`
    : `no voice is called ${quoted(wanted)}; there ${voices.length === 1 ? "is" : "are"} ${voices.map(quoted).join(", ")}`;

function voicesLeftOut(voices: readonly string[], voice: string | null): readonly string[] {
  const others = voices.filter((name) => name !== voice);
  if (others.length === 0) return [];
  const named = (name: string | null) => (name === null || /^[\w.-]+$/.test(name) ? name : quoted(name));
  return [`of the voices ${voices.map(named).join(", ")} only ${named(voice)} is read`];
}

const untitled = (header: AbcHeader, piece: AbcPiece): readonly string[] => [
  ...(header.titles.length === 0 ? ["the tune has no title (T:)"] : []),
  ...(header.number === null ? ["the tune has no number (X:): its place in the file is taken"] : []),
  ...(piece.goesOnAt === null
    ? []
    : [`what follows the empty line ${piece.goesOnAt} is not read, as an empty line ends a tune`]),
];

/** Longer than any sentence of ours with a name or two in it. */
const LONGEST_REMARK = 300;

function remarksOf(slips: readonly Slip[], general: readonly string[], placeAt: PlaceAt): readonly Remark[] {
  const all = [...general.map((words) => ({ at: null, words })), ...slips];
  const remarks = all.slice(0, MOST_REMARKS).map(({ at, words }) => ({
    place: at === null ? null : placeAt(at),
    words: words.length > LONGEST_REMARK ? `${words.slice(0, LONGEST_REMARK)}…` : words,
  }));
  const more = all.length - remarks.length;
  return more === 0 ? remarks : [...remarks, { place: null, words: `and ${withCommas(more)} more` }];
}

function tuneOf(
  header: AbcHeader,
  music: MusicRead,
  { bars, notes, chords }: PlayedOut,
  given: { readonly piece: AbcPiece; readonly transpose: number; readonly remarks: readonly Remark[] },
): Tune {
  const { piece, transpose, remarks } = given;
  const { metre, rhythm, titles, fields } = header;
  const dance = rhythm === null ? danceOfMetre(metre) : danceOfRhythm(rhythm);
  const number = header.number ?? piece.place;
  const key = header.key?.key ?? { tonic: null, mode: null, signature: {} };
  const { tempo, tempoFrom, slow } = tempoFor(header.tempo ?? music.tempo, header, dance);
  return {
    number,
    title: titles[0] ?? `Tune ${number}`,
    otherTitles: titles.slice(1),
    fields,
    dance,
    rhythm,
    metre,
    key: tuneKey(key, notes.at(-1), transpose),
    tempo,
    tempoFrom,
    bars,
    notes,
    chords,
    remarks: slow === null ? remarks : [...remarks, { place: null, words: slow }],
  };
}

function tempoFor(field: TempoField | null, { unitLength, metre }: AbcHeader, dance: TuneDance | null) {
  if (field === null) {
    return dance === null
      ? ({ tempo: ANY_TEMPO, tempoFrom: "neither", slow: null } as const)
      : ({ tempo: USUAL_TEMPI[dance], tempoFrom: "dance", slow: null } as const);
  }
  const { tempo, outside } = tempoOf(field, unitLength ?? usualUnitLength(metre), metre);
  const slow = outside
    ? `the tempo is beyond what can be set: ${tempo.noteValue} = ${tempo.bpm} is taken`
    : null;
  return { tempo, tempoFrom: "tune", slow } as const;
}
