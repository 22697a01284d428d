import { readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { expect, test, vi } from "vitest";
import { readArchive } from "../../../core/archive/read-archive.ts";
import { readExercise } from "../../../core/exercise/exercise-json.ts";
import { readLayout } from "../../../core/instrument/layout-json.ts";
import { whyTooLong } from "../../../core/listen/take-limits.ts";
import { readWav } from "../../../core/listen/wav.ts";
import { readScala } from "../../../core/pitch/scala-scale.ts";
import { Fault, parsed } from "../../../core/reading/json-values.ts";
import { LIMITS, type LimitName, whyTooLarge, withCommas } from "../../../core/reading/limits.ts";
import { readPlants } from "../../../core/simulate/plants.ts";
import { readPartOrder } from "../../../core/tune/abc/part-order.ts";
import { splitAbc } from "../../../core/tune/abc/split-abc.ts";
import { readTunes } from "../../../core/tune/read-tunes.ts";
import { CommandError } from "../../../electron/commands/command-error.ts";
import { pinsOf } from "../../../electron/commands/plan-options.ts";
import { setListOf } from "../../../electron/commands/set-list-file.ts";
import { unpacked } from "../../../renderer/archive/gzip.ts";
import { whyTooLarge as recordingTooLarge } from "../../../renderer/audio/file-limit.ts";
import { isNoProgress, oneJob } from "../../../renderer/jobs/one-job.ts";
import { archiveText, entryValue } from "../../support/archives.ts";
import { exerciseOf } from "../../support/drills.ts";
import { END, midiFile, note } from "../../support/midi-file.ts";
import {
  begin,
  bytesOf,
  CONTAINER,
  measure,
  note as noteXml,
  score,
  zipped,
} from "../../support/musicxml.ts";
import { tuneOf } from "../../support/small-tunes.ts";
import { chunk, fmt, riff } from "../listen/wav-bytes.ts";

/** What a reader says of a file that asks for so much; null where it reads it, or has nothing against the amount. */
type Asked = (amount: number) => string | null | Promise<string | null>;

const reasonOf = (read: { readonly kind: string; readonly reason?: string }) =>
  read.kind === "unreadable" ? (read.reason ?? "") : null;

function tunesOf(bytes: Uint8Array): string | null {
  const read = readTunes(bytes);
  return reasonOf(read) ?? (read.kind === "tunes" ? (read.bad[0]?.reason ?? null) : null);
}

function ofCommand(read: () => unknown): string | null {
  try {
    read();
    return null;
  } catch (error) {
    if (error instanceof CommandError || error instanceof Fault) return error.message;
    throw error;
  }
}

const abc = (body: string, head = "") =>
  bytesOf(`X:1\nT:Chairs Against the Wall\n${head}M:4/4\nL:1/8\nK:G\n${body}\n`);
const padded = (text: string, length: number) => text + " ".repeat(Math.max(0, length - text.length));
const EXERCISE = exerciseOf();
const TUNE = tuneOf([{ written: 1, notes: "D4 E4 F#4 G4" }]);
const HOLES = [{ blow: 0, draw: 2 }];
const layout = (changes: object) =>
  JSON.stringify({ schema: "reedpath.layout", version: 1, name: "a", holes: HOLES, ...changes });

function exerciseOfNotes(count: number): string {
  const [first] = EXERCISE.notes;
  const notes = Array.from({ length: count }, (_, index) => ({ ...first, index, startBeats: index }));
  return JSON.stringify({ ...EXERCISE, notes });
}

const plants = (count: number) =>
  JSON.stringify({
    schema: "reedpath.plant",
    version: 1,
    faults: Array.from({ length: count }, () => ({ kind: "missed", index: 0 })),
  });

async function archiveSays(bytes: Uint8Array | string): Promise<string | null> {
  const packed = typeof bytes === "string" ? gzipSync(bytes, { level: 1 }) : bytes;
  for await (const event of readArchive(unpacked(new Blob([packed.slice()])))) {
    if (event.kind === "refused" || event.kind === "fault") return event.reason;
  }
  return null;
}

const HEADER = archiveText([]).split("\n")[0];
const record = (id: string, value: unknown) => archiveText([{ kind: "settings", id, value }]);
const takePart = (parts: number) =>
  archiveText([
    { kind: "attempt", id: "a", value: entryValue() },
    {
      kind: "take",
      id: "a",
      value: {
        about: { form: "packed", sampleRateHz: 48_000, count: 4, step: 1 / 32_768 },
        part: 0,
        parts,
        bytes: "AQID",
      },
    },
  ]);

/** Every row of the table with a file, or a step of its reader, that asks for an amount of it. */
const ASKED: Readonly<Record<LimitName, Asked>> = {
  readingSeconds: silentFor,
  tuneFileBytes: (bytes) => whyTooLarge(bytes, LIMITS.tuneFileBytes),
  abcCharacters: (length) => reasonOf(splitAbc(padded("X:1\nT:a\nM:4/4\nL:1/8\nK:G\nGABG|", length))),
  abcTunes: (count) => reasonOf(splitAbc("X:1\nK:G\nG|\n".repeat(count))),
  abcTuneCharacters: (length) => tunesOf(bytesOf(padded("X:1\nT:a\nM:4/4\nL:1/8\nK:G\nGABG|", length))),
  // [calc] A part of 500 notes played 99 times, and a part of what is left over.
  tuneNotes: (count) =>
    tunesOf(abc(`P:A\n${"G".repeat(500)}|\nP:B\n${"G".repeat(count - 99 * 500)}|`, "P:A99B\n")),
  tuneBars: (count) => tunesOf(abc(`Z${count - 1}|G8|`)),
  abcPartDepth: (depth) => reasonOf(readPartOrder(`${"(".repeat(depth)}A${")".repeat(depth)}`)),
  abcParts: (count) => reasonOf(readPartOrder("A".repeat(count))),
  xmlBytes: (length) => tunesOf(bytesOf(padded(score(begin(noteXml("G4", 8))), length))),
  xmlUnpackedBytes: (length) =>
    tunesOf(
      zipped({
        "META-INF/container.xml": CONTAINER,
        "score.musicxml": padded(score(begin(noteXml("G4", 8))), length),
      }),
    ),
  zipEntries: (count) =>
    tunesOf(
      zipped({
        "META-INF/container.xml": CONTAINER,
        "score.musicxml": score(begin(noteXml("G4", 8))),
        ...names(count - 2),
      }),
    ),
  xmlDepth: (depth) =>
    tunesOf(bytesOf(score(begin(noteXml("G4", 8)), `${"<a>".repeat(depth - 1)}${"</a>".repeat(depth - 1)}`))),
  xmlElements: (count) => tunesOf(bytesOf(elements(count))),
  midiBytes: (length) => tunesOf(withMidiRest(length)),
  midiTracks: (count) =>
    tunesOf(midiOfTracks(Array.from({ length: count }, () => [...note(72, 480), ...END]))),
  midiEvents: (count) => tunesOf(midiEvents(count)),
  midiTrackNotes: (count) =>
    tunesOf(midiOf([...Array.from({ length: count }, () => note(72, 48)).flat(), ...END], 96)),
  midiCrotchets: (crotchets) => tunesOf(midiOf([...note(72, 1), ...waits(crotchets - 1), ...END], 1)),
  soundBytes: (bytes) => whyTooLarge(bytes, LIMITS.soundBytes),
  soundWindowBytes: (bytes) => recordingTooLarge(bytes),
  soundMinutes: (minutes) => whyTooLong(minutes * 60 * 8000, 8000),
  soundChannels: (channels) =>
    reasonOf(
      readWav(riff(chunk("fmt ", fmt(1, channels, 48_000, 16)), chunk("data", Array(2 * channels).fill(0)))),
    ),
  jsonBytes: (length) => ofCommand(() => parsed(padded("[]", length))),
  jsonDepth: (depth) => ofCommand(() => parsed("[".repeat(depth) + "]".repeat(depth))),
  smallFileBytes: (bytes) => whyTooLarge(bytes, LIMITS.smallFileBytes),
  nameCharacters: (length) => reasonOf(readLayout(layout({ name: "a".repeat(length) }))),
  exerciseNotes: (count) => reasonOf(readExercise(exerciseOfNotes(count))),
  plantedFaults: (count) =>
    (reasonOf(readPlants(plants(count), EXERCISE)) ?? "").replace(/^.*already has a fault$/, "") || null,
  listSets: (count) =>
    ofCommand(() =>
      setListOf(
        { sets: Array.from({ length: count }, () => ({ tunes: [] })) },
        "list.json",
        (title) => title,
      ),
    ),
  listTunes: (count) =>
    ofCommand(() =>
      setListOf(
        { sets: [{ tunes: Array.from({ length: count }, () => ({ title: "a" })) }] },
        "list.json",
        (title) => title,
      ),
    ),
  pins: (count) =>
    ofCommand(() =>
      pinsOf(
        Array.from({ length: count }, () => ({ written: TUNE.notes[0]?.written, tab: "4" })),
        "pins.json",
        TUNE,
      ),
    ),
  scalaCharacters: (length) => reasonOf(readScala(padded("a\n1\n2/1\n", length))),
  scalaNotes: (count) => reasonOf(readScala(`a\n${count}\n${"3/2\n".repeat(count - 1)}2/1\n`)),
  archiveUnpackedTimes: (times) => archiveSays(trapOf(times)),
  archiveLineCharacters: (length) =>
    archiveSays(`${HEADER}\n${padded('{"kind":"settings","id":"a","value":{}}', length)}\n`),
  archiveHeaderCharacters: (length) =>
    archiveSays(`${padded(HEADER ?? "", length)}\n${archiveText([]).split("\n")[1]}\n`),
  archiveIdCharacters: (length) => archiveSays(record("a".repeat(length), {})),
  archiveTakeParts: (parts) => archiveSays(takePart(parts)),
};

const names = (count: number) =>
  Object.fromEntries(Array.from({ length: count }, (_, n) => [`picture-${n}.png`, "x"]));

function elements(count: number): string {
  const small = score(begin(noteXml("G4", 8)) + measure("@"));
  const there = (small.match(/<[a-z]/g) ?? []).length;
  return small.replace("@", "<sound/>".repeat(count - there));
}

/** A worker that says nothing for just under so many seconds, and then that it is done. */
async function silentFor(seconds: number): Promise<string | null> {
  vi.useFakeTimers();
  const worker = {
    postMessage() {},
    terminate() {},
    onmessage: null as ((event: { data: { kind: "read" } }) => void) | null,
  };
  const start = () => worker as unknown as Worker;
  const answer = oneJob(start, "read", isNoProgress<{ readonly kind: "read" }>, {
    silentSeconds: LIMITS.readingSeconds.most,
  }).then(
    () => null,
    (error: Error) => error.message,
  );
  await vi.advanceTimersByTimeAsync(1000 * seconds - 1);
  worker.onmessage?.({ data: { kind: "read" } });
  vi.useRealTimers();
  return answer;
}

/** A MIDI file of tracks of any number and length; `midiFile` counts both in fewer bytes. */
function midiOfTracks(tracks: readonly Iterable<number>[], division = 480): Uint8Array {
  const head = midiFile([], 1, division);
  [head[10], head[11]] = [tracks.length >>> 8, tracks.length & 255];
  const size = (length: number) => [24, 16, 8, 0].map((bits) => (length >>> bits) & 255);
  const chunks = tracks.flatMap((track) => {
    const bytes = Uint8Array.from(track);
    return [Uint8Array.from([0x4d, 0x54, 0x72, 0x6b, ...size(bytes.length)]), bytes];
  });
  return Buffer.concat([head, ...chunks]);
}

const midiOf = (track: Iterable<number>, division?: number) => midiOfTracks([track], division);

/** A note, and controllers until there are so many events. */
function midiEvents(count: number): Uint8Array {
  const track = new Uint8Array(9 + 4 * (count - 3) + 4);
  track.set(note(72, 96));
  for (let at = note(72, 96).length; at < track.length - 4; at += 4) track.set([0, 0xb0, 7, 1], at);
  track.set(END, track.length - 4);
  return midiOf(track);
}

/** Texts to fill a file up to its length. */
function withMidiRest(length: number): Uint8Array {
  const file = midiFile([[...note(72, 480), ...END]]);
  const all = new Uint8Array(length);
  all.set(file);
  return all;
}

/** Events that let time go by: at most 2^28 - 1 ticks each. */
function waits(ticks: number): number[] {
  const [a, b, c, d] = [21, 14, 7, 0].map((bits) => (ticks >>> bits) & 127);
  return [0x80 | (a ?? 0), 0x80 | (b ?? 0), 0x80 | (c ?? 0), d ?? 0, 0xb0, 7, 1];
}

/** Packed zeros that unpack to more than the 16 MiB that are always allowed and so many times the packed size. */
function trapOf(times: number): Uint8Array {
  const filler = `${HEADER}\n`;
  return gzipSync(filler + "0".repeat(times > LIMITS.archiveUnpackedTimes.most ? 40_000_000 : 1_000_000));
}

/** What takes seconds to read where it is within the limit; what is beyond is refused at once. */
const LONG_WITHIN: readonly LimitName[] = [
  "xmlUnpackedBytes",
  "midiEvents",
  "midiTrackNotes",
  "archiveLineCharacters",
];

test.each(Object.keys(LIMITS) as LimitName[])(
  "%s: what is within is read, what is beyond is refused with the limit",
  async (name) => {
    const { most } = LIMITS[name];
    const within = LONG_WITHIN.includes(name) ? null : await ASKED[name](most);
    const past = await ASKED[name](most + 1);
    const named = (text: string | null) =>
      [withCommas(most), String(most), String(most / 1e6)].some((number) => text?.includes(number));
    expect(past, "beyond").not.toBeNull();
    expect(named(past), past ?? "").toBe(true);
    expect(past).not.toMatch(/[\n\r]/);
    // A file of so much may have other faults; the limit is not among them.
    expect(/the most that is read|at most .* (are read|can be)/.test(within ?? ""), within ?? "").toBe(false);
  },
  60_000,
);

test("the table in DEVELOPERS.md has every limit as it is", () => {
  const text = readFileSync(new URL("../../../DEVELOPERS.md", import.meta.url), "utf8");
  const rows = [...text.matchAll(/^\| `([A-Za-z]+)` \| ([\d,]+) ([a-z ]+) \|/gm)].map(
    ([, name, most, of]) => [name, most, of],
  );
  expect(rows).toEqual(Object.entries(LIMITS).map(([name, { most, of }]) => [name, withCommas(most), of]));
});
