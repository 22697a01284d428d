import type { Random } from "../../../core/exercise/seeded-random.ts";
import { LIMITS } from "../../../core/reading/limits.ts";
import { decodeText } from "../../../core/tune/abc/decode-text.ts";
import { voicesOfAbc } from "../../../core/tune/abc/read-abc.ts";
import { splitAbc } from "../../../core/tune/abc/split-abc.ts";
import { midiTracks } from "../../../core/tune/read-midi.ts";
import { musicXmlParts } from "../../../core/tune/read-musicxml.ts";
import { type ReadTuneFile, readTunes } from "../../../core/tune/read-tunes.ts";
import type { Tune } from "../../../core/tune/tune.ts";
import { tuneId } from "../../../core/tune/tune-id.ts";
import { tuneLine } from "../../../core/tune/tune-list.ts";
import { writeAbc } from "../../../core/tune/write-abc.ts";
import { writeMidi } from "../../../core/tune/write-midi.ts";
import { writeMusicXml } from "../../../core/tune/write-musicxml.ts";
import { anyPlainTune, anyTune } from "../../support/any-tune.ts";
import { mutatedBytes } from "../../support/mutate-bytes.ts";
import { mutatedText } from "../../support/mutate-text.ts";
import { faultsOfReading } from "../../support/sound-tune.ts";
import { soundFiles } from "../../support/sound-tune-files.ts";
import { soundTexts } from "../../support/sound-tune-texts.ts";
import { below, drawn, HOSTILE_WORDS, oneOf } from "./chance.ts";
import { forgedZip } from "./forged-zip.ts";
import { bytesOf, type FuzzedReader, faultsOfData, type Outcome, refused } from "./fuzzed-reader.ts";
import { madeMidi } from "./made-midi.ts";
import { madeScore } from "./made-score.ts";
import { changedTokens } from "./token-changes.ts";

/** Readers of tunes, each with sound files of tunes that come along and with made ones. */
export function tuneReaders(): readonly FuzzedReader[] {
  const texts = soundTexts();
  const files = soundFiles();
  const reader = (name: string, ending: string, make: FuzzedReader["make"]): FuzzedReader => ({
    name,
    ending,
    make,
    read: readAndWrite,
    command: (path) => ["tune", path],
  });
  return [
    reader("ABC", "abc", (random) => {
      if (random() < 0.2) return bytesOf(writeAbc(drawn(random, anyTune)));
      if (random() < 0.25) return changedTokens(random, bytesOf(oneOf(random, texts)));
      const text = mutatedText(random, texts);
      return bytesOf(random() < 0.3 ? withHostileField(random, text) : text);
    }),
    reader("MusicXML", "musicxml", (random) => {
      const turn = random();
      if (turn < 0.15) return bytesOf(writeMusicXml(drawn(random, anyTune)));
      if (turn < 0.35) return changedTokens(random, oneOf(random, files.MusicXML));
      return turn < 0.6 ? bytesOf(madeScore(random)) : mutatedBytes(random, files.MusicXML);
    }),
    reader("MXL", "mxl", (random) =>
      random() < 0.7 ? forgedZip(random, files.MusicXML) : mutatedBytes(random, files["compressed MusicXML"]),
    ),
    reader("MIDI", "mid", (random) => {
      const turn = random();
      if (turn < 0.15) return writeMidi(drawn(random, anyPlainTune));
      return turn < 0.5 ? madeMidi(random) : mutatedBytes(random, files.MIDI);
    }),
  ];
}

function withHostileField(random: Random, text: string): string {
  const field = oneOf(random, ["T:", "C:", "N:", "S:", "R:", "w:", "K:", "V:", "P:", "U:", "%%text ", "Z:"]);
  const line = `${field}${oneOf(random, HOSTILE_WORDS)}\n`;
  const after = text.indexOf("\n", below(random, text.length));
  if (random() < 0.3) return text.replace(/!\w+!/, `!${oneOf(random, HOSTILE_WORDS)}!`);
  return after < 0 ? `${text}\n${line}` : `${text.slice(0, after + 1)}${line}${text.slice(after + 1)}`;
}

/** Reads as window and command do, looks for what every reading owes, and writes what was read in every format. */
function readAndWrite(bytes: Uint8Array): Outcome {
  const read = readTunes(bytes);
  lookInto(bytes, read);
  if (read.kind === "unreadable") return refused(read.reason);
  const lines = read.file === "ABC" ? decodeText(bytes).split("\n").length : Number.POSITIVE_INFINITY;
  return {
    kind: read.tunes.length > 0 ? "read" : "refused",
    faults: read.bad.flatMap(({ reason }) => refused(reason).faults),
    owed: () => [
      ...faultsOfReading(read, lines),
      ...faultsOfData(read),
      ...read.tunes.flatMap((tune) => [...faultsOfWriting(tune), ...faultsOfData(tuneLine(tune))]),
    ],
  };
}

/** What the window asks of a file beside its tunes. */
function lookInto(bytes: Uint8Array, read: ReadTuneFile): void {
  if (read.kind === "unreadable") return;
  if (read.file === "MIDI") midiTracks(bytes);
  if (read.file === "MusicXML" || read.file === "compressed MusicXML") musicXmlParts(bytes);
  if (read.file !== "ABC") return;
  const pieces = splitAbc(decodeText(bytes));
  if (pieces.kind === "unreadable") return;
  for (const piece of pieces.tunes) voicesOfAbc(pieces.header, piece);
}

/** Every format can be written of every tune that was read; as ABC it can be read again and has the same music. */
function faultsOfWriting(tune: Tune): readonly string[] {
  try {
    writeMusicXml(tune);
    writeMidi(tune);
    const abc = writeAbc(tune);
    tuneId(abc);
    return faultsOfReadingAgain(tune, abc);
  } catch (error) {
    return [`cannot be written: ${error instanceof Error ? error.message : error}`];
  }
}

function faultsOfReadingAgain(tune: Tune, abc: string): readonly string[] {
  // Longer than is read: the window says so and keeps nothing.
  if (abc.length > LIMITS.abcTuneCharacters.most) return [];
  const again = readTunes(bytesOf(abc));
  if (again.kind === "unreadable") return [`written as ABC it cannot be read: ${again.reason}`];
  const [first] = again.tunes;
  if (first === undefined) return [`written as ABC it is bad: ${again.bad[0]?.reason}`];
  const sounds = ({ notes }: Tune) =>
    JSON.stringify(notes.map(({ startTicks, lengthTicks, midi }) => [startTicks, lengthTicks, midi]));
  return sounds(first) === sounds(tune) ? [] : ["written as ABC and read again it sounds otherwise"];
}
