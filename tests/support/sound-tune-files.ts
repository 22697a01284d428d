import { readAbc } from "../../core/tune/abc/read-abc.ts";
import { writeMidi } from "../../core/tune/write-midi.ts";
import { writeMusicXml } from "../../core/tune/write-musicxml.ts";
import { bytesOf, CONTAINER, zipped } from "./musicxml.ts";
import { shippedTunes } from "./shipped-tunes.ts";

export type FileKind = "MusicXML" | "compressed MusicXML" | "MIDI";

/** Sound files of each kind, of tunes that come along: what mutations start from. */
export function soundFiles(): Readonly<Record<FileKind, readonly Uint8Array[]>> {
  const texts = [...shippedTunes("traditional").slice(0, 5), ...shippedTunes("village-band").slice(0, 3)];
  const tunes = texts.flatMap((text) => {
    const read = readAbc(text);
    return read.kind === "tunes" ? read.tunes : [];
  });
  const scores = tunes.map((tune) => bytesOf(writeMusicXml(tune, { texts: tune.notes.map(() => "+4") })));
  return {
    MusicXML: scores,
    "compressed MusicXML": scores.map(packed),
    MIDI: tunes.flatMap((tune) => [writeMidi(tune, { format: 0 }), writeMidi(tune, { format: 1 })]),
  };
}

const packed = (score: Uint8Array) =>
  zipped({ "META-INF/container.xml": CONTAINER, "score.musicxml": score });
