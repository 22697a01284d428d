import type { ArchiveRecord } from "../../core/archive/archive-format.ts";
import { type ArchiveEvent, readArchive } from "../../core/archive/read-archive.ts";
import { ArchiveLines, takeRecords } from "../../core/archive/write-archive.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { cents, dbfs, midi, seconds } from "../../core/units.ts";
import { emptyMeasurement, type KeptMeasurement } from "../../core/workshop/measure/measurement.ts";
import { exerciseOf } from "./drills.ts";
import { harp } from "./harps.ts";
import { heardNote, listeningOf } from "./listenings.ts";

/** What an attempt record holds: four right notes of a drill, the fifth wrong, in Dublin. */
export function entryValue(changes: Readonly<Record<string, unknown>> = {}) {
  const exercise = exerciseOf();
  const notes = exercise.notes
    .slice(0, 5)
    .map((note, n) => heardNote(2 + n * 0.67, note.midi + (n === 4 ? 2 : 0)));
  return {
    atEpochMs: 1_790_000_000_000,
    zone: "Europe/Dublin",
    source: "microphone",
    exercise,
    attempt: scoreTake(exercise, listeningOf(notes, 20)),
    ...changes,
  };
}

export const PACKED_ABOUT = { form: "packed", sampleRateHz: 48_000, count: 4, step: 1 / 32_768 } as const;

/** One record of every kind, in order. */
export function everyKind(): readonly ArchiveRecord[] {
  const own = harp("G");
  return [
    { kind: "settings", id: "settings", value: { a4Hz: 443, look: "dark" } },
    { kind: "layout", id: "layout-1", value: { layout: own.layout } },
    { kind: "harp", id: "harp-1", value: { harp: own, note: "the band's" } },
    { kind: "tune", id: "tune-1", value: tuneValue() },
    { kind: "study", id: "tune-1", value: { danceBpm: 112, heard: ["whole"] } },
    { kind: "set list", id: "list-1", value: setListValue() },
    {
      kind: "wish",
      id: "item-1",
      value: { kind: "moved", toDay: "2026-11-30", wishedAtEpochMs: 5 },
    },
    { kind: "reed measurement", id: "measurement-1", value: measurementValue() },
    { kind: "attempt", id: "attempt-1", value: entryValue() },
    ...takeRecords("attempt-1", PACKED_ABOUT, new Uint8Array([1, 2, 3])),
    { kind: "attempt", id: "attempt-2", value: entryValue({ starred: true, atEpochMs: 1_790_100_000_000 }) },
  ];
}

export const tuneValue = () => ({
  title: "Chairs Against the Wall",
  otherTitles: [],
  key: "G major",
  metre: "4/4",
  dance: "reel",
  begins: "GABG",
  from: "written here",
  abc: "X:1\nT:Chairs Against the Wall\nM:4/4\nL:1/8\nK:G\nGABG|\n",
});

/** 1 blow of a G harp, measured 4 cents sharp; the rest still to come. */
export function measurementValue(changes: Partial<KeptMeasurement> = {}): Omit<KeptMeasurement, "id"> {
  const empty = emptyMeasurement(harp("G"), "microphone");
  const reading = {
    midi: midi(55.04),
    wanderCents: cents(0.5),
    settledSeconds: seconds(0.9),
    levelDbfs: dbfs(-20),
  };
  const reeds = empty.reeds.map((reed, n) =>
    n === 0 ? { ...reed, readings: [reading, reading, reading], outcome: "measured" as const } : reed,
  );
  return {
    ...empty,
    reeds,
    harpId: "harp-1",
    beganAtEpochMs: 1_790_000_000_000,
    changedAtEpochMs: 1_790_000_060_000,
    zone: "Europe/Dublin",
    finished: false,
    afterReedWork: false,
    ...changes,
  };
}

export const setListValue = () => ({
  name: "Autumn dance",
  sets: [
    {
      id: "set-1",
      name: "Reels",
      tunes: [{ id: "place-1", tuneId: "tune-1", title: "Chairs Against the Wall", times: 3 }],
      pauseSeconds: 0,
      breakSeconds: 180,
    },
  ],
});

export function archiveText(records: readonly ArchiveRecord[]): string {
  const lines = new ArchiveLines();
  return [lines.header(), ...records.map((record) => lines.record(record)), lines.end()].join("");
}

/** Events of a text that comes in pieces of so many characters. */
export async function eventsOf(text: string, pieceLength = 10_000): Promise<readonly ArchiveEvent[]> {
  const events: ArchiveEvent[] = [];
  for await (const event of readArchive(inPieces(text, pieceLength))) events.push(event);
  return events;
}

async function* inPieces(text: string, length: number): AsyncGenerator<string> {
  for (let at = 0; at < text.length; at += length) yield text.slice(at, at + length);
}
