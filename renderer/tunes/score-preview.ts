import { musicXmlParts, type ScorePartInfo } from "../../core/tune/read-musicxml.ts";
import { readTunes, type TuneChoices } from "../../core/tune/read-tunes.ts";
import { writeAbc } from "../../core/tune/write-abc.ts";

/** What a MusicXML file would become, read with some choices. */
export interface ScorePreview {
  /** Those with notes, each with its voices. */
  readonly parts: readonly ScorePartInfo[];
  /** The ones read. */
  readonly part: ScorePartInfo;
  readonly voice: string;
  /** Whether there is another part or voice to choose. */
  readonly several: boolean;
  readonly notes: number;
  readonly abc: string;
}

export type ReadScorePreview =
  | { readonly kind: "preview"; readonly preview: ScorePreview }
  | { readonly kind: "unreadable"; readonly reason: string };

/** @param choices part (by its id) and voice; of a part or voice that is not there the first is taken */
export function scorePreview(bytes: Uint8Array, choices: TuneChoices): ReadScorePreview {
  const listed = musicXmlParts(bytes);
  if (listed.kind === "unreadable") return listed;
  const part = listed.parts.find(({ id }) => id === choices.part) ?? listed.parts[0];
  const voice = part?.voices.find(({ name }) => name === choices.voice) ?? part?.voices[0];
  if (part === undefined || voice === undefined)
    return { kind: "unreadable", reason: "no part of the score has notes of a pitch" };
  const read = readTunes(bytes, { part: part.id, voice: voice.name });
  if (read.kind === "unreadable") return read;
  const [tune] = read.tunes;
  if (tune === undefined) return { kind: "unreadable", reason: "there is no tune in it" };
  return {
    kind: "preview",
    preview: {
      parts: listed.parts,
      part,
      voice: voice.name,
      several: listed.parts.length > 1 || part.voices.length > 1,
      notes: tune.notes.length,
      abc: writeAbc(tune),
    },
  };
}
