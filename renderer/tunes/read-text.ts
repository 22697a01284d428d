import { noSuchVoice, readAbcTune, voicesOfAbc } from "../../core/tune/abc/read-abc.ts";
import { type AbcPiece, splitAbc } from "../../core/tune/abc/split-abc.ts";
import type { ReadText } from "./tune-messages.ts";

/**
 * All tunes of a text.
 *
 * @param voice the one to read, null for the first; where a tune does not have it (what was set for a tune may be of another
 *   text) the first is read, and a remark says so
 */
export function readText(text: string, voice: string | null = null): ReadText {
  const pieces = splitAbc(text);
  if (pieces.kind === "unreadable") return { tunes: [], bad: [], unreadable: pieces.reason };
  const read = pieces.tunes.map((piece) => readInVoice(pieces.header, piece, voice));
  return {
    tunes: read.flatMap((one) => (one.kind === "tune" ? [one.read] : [])),
    bad: read.flatMap((one) => (one.kind === "bad" ? [one.bad] : [])),
    unreadable: null,
  };
}

function readInVoice(header: string, piece: AbcPiece, voice: string | null) {
  const voices = voicesOfAbc(header, piece);
  const known = voice === null || voices.includes(voice);
  const read = readAbcTune(header, piece, voice === null || !known ? {} : { voice });
  if (read.kind === "bad") return read;
  const words = known ? [] : [`${noSuchVoice(voice, voices)}: the first is read`];
  const remarks = [...words.map((one) => ({ place: null, words: one })), ...read.tune.remarks];
  return { kind: "tune", read: { tune: { ...read.tune, remarks }, abc: piece.text, voices } } as const;
}
