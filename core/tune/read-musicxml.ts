import { LIMITS, moreThan } from "../reading/limits.ts";
import { quoted } from "../reading/quoting.ts";
import { danceOfMetre, danceOfRhythm } from "./abc/rhythm-field.ts";
import { tempoOf } from "./abc/tempo-field.ts";
import { ANY_TEMPO, type TuneDance, USUAL_TEMPI } from "./dances.ts";
import { keyOfFifths, modeEndingOn, signatureOfFifths } from "./key-signature.ts";
import { soundingFifths } from "./musicxml/attributes.ts";
import { openScore } from "./musicxml/open-score.ts";
import { type ReadPart, readPart } from "./musicxml/part-reader.ts";
import { sounds, voiceOf } from "./musicxml/read-note.ts";
import { readScoreHeader } from "./musicxml/score-header.ts";
import { type ScorePart, scoreParts } from "./musicxml/score-parts.ts";
import { child, childrenOf, type XmlElement } from "./musicxml/xml-tree.ts";
import { playOut } from "./play-out.ts";
import type { ReadTunes, Remark, Tune, TuneKey, TuneNote } from "./tune.ts";
import { TuneFault } from "./tune-fault.ts";

export interface MusicXmlChoices {
  /** Id or name of the part; the first with notes if not given. */
  readonly part?: string;
  /** Voice of the part; the first with notes if not given. */
  readonly voice?: string;
}

/** A part of a score to choose from. */
export interface ScorePartInfo {
  readonly id: string;
  /** As printed beside its staff; its id where it has no name. */
  readonly name: string;
  /** Its voices with notes, in the order they begin; at least one. */
  readonly voices: readonly { readonly name: string; readonly noteCount: number }[];
}

export type MusicXmlParts =
  | { readonly kind: "parts"; readonly parts: readonly ScorePartInfo[] }
  | { readonly kind: "unreadable"; readonly reason: string };

/** Parts of a MusicXML file that have notes of a pitch, and the voices of each. */
export function musicXmlParts(bytes: Uint8Array): MusicXmlParts {
  return orReason(() => ({
    kind: "parts",
    parts: scoreParts(openScore(bytes)).flatMap((part) => {
      const counts = new Map<string, number>();
      for (const note of soundingNotes(part)) {
        const voice = voiceOf(note);
        counts.set(voice, (counts.get(voice) ?? 0) + 1);
      }
      const voices = [...counts].map(([name, noteCount]) => ({ name, noteCount }));
      return voices.length === 0 ? [] : [{ id: part.id, name: part.name, voices }];
    }),
  }));
}

/**
 * Reads a MusicXML file, .musicxml or .mxl, as one tune, played out, at sounding pitch. Nothing outside the file is fetched,
 * and limits (`musicxml/limits.ts`) are kept before anything is unpacked or built.
 *
 * @param bytes the whole file
 * @returns the tune; or one line naming the fault, with line and column where it has a place
 *
 * Source: MusicXML 4.0, W3C Music Notation Community Group, 2021.
 */
export function readMusicXml(bytes: Uint8Array, choices: MusicXmlChoices = {}): ReadTunes {
  return orReason(() => ({
    kind: "tunes",
    tunes: [tuneOfScore(openScore(bytes), choices)],
    bad: [],
    remarks: [],
  }));
}

function orReason<T>(read: () => T): T | { readonly kind: "unreadable"; readonly reason: string } {
  try {
    return read();
  } catch (error) {
    if (error instanceof TuneFault) return { kind: "unreadable", reason: error.message };
    throw error;
  }
}

function tuneOfScore(root: XmlElement, choices: MusicXmlChoices): Tune {
  const parts = scoreParts(root);
  const part = chosenPart(parts, choices.part);
  const voices = voicesOf(part);
  const voice = chosenVoice(voices, choices.voice);
  const read = readPart(part.measures, voice);
  const played = playOut(
    { bars: read.bars, partOrder: null },
    { bars: LIMITS.tuneBars.most, notes: LIMITS.tuneNotes.most },
  );
  if (played.kind === "too long") {
    const most = played.what === "bars" ? LIMITS.tuneBars : LIMITS.tuneNotes;
    throw new TuneFault(`played out, the tune has ${moreThan(most)}`);
  }
  const header = readScoreHeader(root);
  const metre = read.metre ?? null;
  const dance = header.rhythm === null ? danceOfMetre(metre) : danceOfRhythm(header.rhythm);
  const key = keyOf(read, played.notes.at(-1));
  const words = [
    ...othersLeftOut(
      "parts",
      parts.map(({ name }) => name),
      part.name,
    ),
    ...othersLeftOut("voices", voices, voice),
    ...played.troubles,
    ...(header.titles.length === 0 ? ["the score has no title"] : []),
  ];
  return {
    number: 1,
    title: header.titles[0] ?? "Tune 1",
    otherTitles: header.titles.slice(1),
    fields: header.fields,
    dance,
    rhythm: header.rhythm,
    metre,
    key,
    ...tempoFor(read, dance),
    bars: played.bars,
    notes: played.notes,
    chords: played.chords,
    remarks: [...words.map((one): Remark => ({ place: null, words: one })), ...read.remarks],
  };
}

const soundingNotes = (part: ScorePart) =>
  part.measures.flatMap((measure) =>
    childrenOf(measure, "note").filter((note) => sounds(note) && !child(note, "grace")),
  );

function chosenPart(parts: readonly ScorePart[], wanted: string | undefined): ScorePart {
  if (wanted === undefined) {
    const first = parts.find((part) => soundingNotes(part).length > 0);
    if (first === undefined) throw new TuneFault("no part of the score has notes of a pitch");
    return first;
  }
  const found = parts.find(({ id }) => id === wanted) ?? parts.find(({ name }) => name === wanted);
  if (found === undefined) {
    const names = parts.map(({ name }) => name);
    throw new TuneFault(`no part is called ${quoted(wanted)}; ${thereAre(names)}`);
  }
  if (soundingNotes(found).length === 0)
    throw new TuneFault(`the part ${quoted(found.name)} has no notes of a pitch`);
  return found;
}

const voicesOf = (part: ScorePart): readonly string[] => [...new Set(soundingNotes(part).map(voiceOf))];

function chosenVoice(voices: readonly string[], wanted: string | undefined): string {
  const voice = wanted === undefined ? voices[0] : voices.find((one) => one === wanted);
  if (voice !== undefined) return voice;
  throw new TuneFault(`no voice of the part is called ${quoted(wanted ?? "")}; ${thereAre(voices)}`);
}

const thereAre = (names: readonly string[]) =>
  `there ${names.length === 1 ? "is" : "are"} ${names.map(quoted).join(", ")}`;

function othersLeftOut(what: "parts" | "voices", names: readonly string[], taken: string): readonly string[] {
  return names.length < 2
    ? []
    : [`of the ${what} ${names.map(quoted).join(", ")} only ${quoted(taken)} is read`];
}

/** Sure only where the file names the mode and the last note is its home note: many programs write "major" unasked. */
function keyOf({ key, moved }: ReadPart, last: TuneNote | undefined): TuneKey {
  const fifths = key?.fifths ?? null;
  if (key === null || fifths === null || key.withoutMode) {
    const tonic = last?.name.replace(/-?\d+$/, "") ?? "C";
    const signature =
      fifths === null ? (key?.signature ?? {}) : signatureOfFifths(soundingFifths(fifths, moved));
    return { tonic, mode: null, signature, sure: false };
  }
  const sounding = soundingFifths(fifths, moved);
  const ending = last === undefined ? null : modeEndingOn(sounding, last.midi);
  return keyOfFifths(sounding, key.mode ?? ending ?? "major", key.mode !== null && key.mode === ending);
}

function tempoFor({ tempo, metre }: ReadPart, dance: TuneDance | null): Pick<Tune, "tempo" | "tempoFrom"> {
  if (tempo !== null) return { tempo: tempoOf(tempo, 1 / 8, metre ?? null).tempo, tempoFrom: "tune" };
  if (dance !== null) return { tempo: USUAL_TEMPI[dance], tempoFrom: "dance" };
  return { tempo: ANY_TEMPO, tempoFrom: "neither" };
}
