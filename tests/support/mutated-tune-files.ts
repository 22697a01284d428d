import { type Random, seededRandom } from "../../core/exercise/seeded-random.ts";
import { readAbc } from "../../core/tune/abc/read-abc.ts";
import { midiTracks, readMidi } from "../../core/tune/read-midi.ts";
import { readMusicXml } from "../../core/tune/read-musicxml.ts";
import type { ReadTunes, Tune } from "../../core/tune/tune.ts";
import { writeAbc } from "../../core/tune/write-abc.ts";
import { writeMidi } from "../../core/tune/write-midi.ts";
import { writeMusicXml } from "../../core/tune/write-musicxml.ts";
import { bytesOf, CONTAINER, zipped } from "./musicxml.ts";
import { mutatedBytes } from "./mutate-bytes.ts";
import { shippedTunes } from "./shipped-tunes.ts";
import { faultsOfReading } from "./sound-tune.ts";

export const FILE_KINDS = ["MusicXML", "compressed MusicXML", "MIDI"] as const;
export type FileKind = (typeof FILE_KINDS)[number];

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

/** What came of one mutated file. */
export interface Outcome {
  readonly kind: "tunes" | "unreadable";
  /** What the reading owes and does not give; what cannot be written again. Empty where all is well. */
  readonly faults: readonly string[];
}

/** Mutates one of the files, reads it, and writes what was read in every format. */
export function tryMutated(
  seed: number,
  kind: FileKind,
  files: Readonly<Record<FileKind, readonly Uint8Array[]>>,
): Outcome {
  const random = seededRandom(seed);
  const bytes = mutated(random, kind, files);
  const read: ReadTunes = kind === "MIDI" ? readMidi(bytes) : readMusicXml(bytes);
  if (kind === "MIDI") midiTracks(bytes);
  const tunes = read.kind === "tunes" ? read.tunes : [];
  return {
    kind: read.kind,
    faults: [...faultsOfReading(read, Number.POSITIVE_INFINITY), ...tunes.flatMap(faultsOfWriting)],
  };
}

/** Compressed files are mutated themselves, or packed around a mutated score: else hardly any would be unpacked. */
function mutated(
  random: Random,
  kind: FileKind,
  files: Readonly<Record<FileKind, readonly Uint8Array[]>>,
): Uint8Array {
  if (kind === "compressed MusicXML" && random() < 0.5) return packed(mutatedBytes(random, files.MusicXML));
  return mutatedBytes(random, files[kind]);
}

function faultsOfWriting(tune: Tune): readonly string[] {
  const writers = { ABC: writeAbc, MusicXML: writeMusicXml, MIDI: writeMidi };
  return Object.entries(writers).flatMap(([name, write]) => {
    try {
      write(tune);
      return [];
    } catch (error) {
      return [`cannot be written as ${name}: ${error instanceof Error ? error.message : error}`];
    }
  });
}
