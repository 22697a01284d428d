import { serialize } from "node:v8";
import { Dexie } from "dexie";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { expect, test } from "vitest";
import { readPracticeDay } from "../../core/progress/practice-day.ts";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../renderer/store/dexie-history-upkeep.ts";
import { DexieProgressStore } from "../../renderer/store/dexie-progress-store.ts";
import { packTakeHere } from "../../renderer/store/take-packing.ts";
import { playedEntries } from "./played-entries.ts";
import { VERSION_3 } from "./schema-versions.ts";
import { countingIds } from "./store-entries.ts";

/** The tables as version 2 had them, written out: what the code says of them now may change. */
const VERSION_2 = {
  lines: "id, atEpochMs, tuneId",
  attempts: "id",
  takes: "id",
  settings: "id",
  layouts: "id",
  harps: "id",
  tunes: "id",
  tuneTexts: "id",
  tuneStudies: "id",
};

const NOON_MS = 1_790_000_000_000;

/** A database as version 2 left it: an attempt an hour, each with its line and its take as it was recorded. */
async function keptByVersion2(count: number) {
  const indexed = { indexedDB: new IDBFactory(), IDBKeyRange };
  const before = new Dexie("reedpath", indexed);
  before.version(2).stores(VERSION_2);
  const played = playedEntries();
  for (let n = 0; n < count; n++) {
    const one = played[n % played.length];
    if (one === undefined) throw new RangeError("nothing was played");
    const { exercise, attempt } = one;
    const common = { id: `old ${n}`, atEpochMs: NOON_MS + 3_600_000 * n, source: "microphone" };
    const sampleRateHz = 8000;
    const samples = Float32Array.from(
      { length: sampleRateHz },
      (_, i) => (Math.round(9000 * Math.sin(i / 9)) + 0) / 32_768,
    );
    const take = { ...attempt.take, durationSeconds: 1, sampleRateHz };
    await before.table("lines").put({
      ...common,
      title: exercise.title,
      harp: "G harp, 2nd position",
      tempo: "♩ = 90",
      durationSeconds: 1,
      summary: attempt.summary,
    });
    await before.table("attempts").put({ ...common, exercise, attempt: { ...attempt, take } });
    await before.table("takes").put({ id: common.id, sampleRateHz, samples });
  }
  await before.table("settings").put({ id: "settings", value: { a4Hz: 442 } });
  before.close();
  return indexed;
}

/** The version, the tables with their indexes, how many rows each has, and all of it to the byte. */
async function everythingOf(indexed: Awaited<ReturnType<typeof keptByVersion2>>) {
  const database = new Dexie("reedpath", indexed);
  await database.open();
  const tables = await Promise.all(
    database.tables.map(async (table) => {
      const rows = await table.toArray();
      const indexes = table.schema.indexes.map(({ src }) => src);
      return { name: table.name, indexes, rows: rows.length, bytes: serialize(rows).toString("base64") };
    }),
  );
  const version = database.backendDB().version;
  database.close();
  return { version, tables };
}

test("what version 2 kept is listed, added up and heard as before, and a recount finds nothing to mend", async () => {
  const indexed = await keptByVersion2(230);
  const shares: number[] = [];
  const database = new ReedpathDatabase(indexed, { onProgress: (share) => shares.push(share) });
  const history = new DexieHistoryStore(database, countingIds());
  const upkeep = new DexieHistoryUpkeep(database);
  expect(await history.count({})).toBe(230);
  // [calc] a hundred at a time: 100 / 230, 200 / 230, all.
  expect(shares).toEqual([0, 100 / 230, 200 / 230, 1]);
  const [newest] = await history.recent(1);
  expect(newest).toMatchObject({
    id: "old 229",
    zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    harpName: "G harp",
    position: 2,
    takeBytes: 32_000, // [calc] 8000 samples of 4 bytes
  });
  expect((await history.open("old 5"))?.take?.samples).toHaveLength(8000);
  const [from, to] = [readPracticeDay("2026-01-01"), readPracticeDay("2026-12-31")];
  if (from === null || to === null) throw new Error("days of the calendar");
  const days = await new DexieProgressStore(database).days(from, to);
  expect(days.reduce((sum, { attempts }) => sum + attempts, 0)).toBe(230);
  // [calc] 230 takes of 1 s.
  expect(days.reduce((sum, { practisedMs }) => sum + practisedMs, 0)).toBe(230_000);
  expect((await upkeep.verify()).differences).toEqual([]);
  expect(await upkeep.needsRecount()).toBe(false);
  expect((await database.settings.get("settings"))?.value).toEqual({ a4Hz: 442 });
});

test("stopped, leaves everything as version 2 had it, and begins anew when opened again", async () => {
  const indexed = await keptByVersion2(110);
  const before = await everythingOf(indexed);
  // [calc] Dexie counts versions in tenths.
  expect(before.version).toBe(20);
  const filled = before.tables.flatMap(({ name, rows }) => (rows > 0 ? [[name, rows]] : []));
  expect(Object.fromEntries(filled)).toEqual({ lines: 110, attempts: 110, takes: 110, settings: 1 });
  const stop = new AbortController();
  const stopped = new ReedpathDatabase(indexed, {
    signal: stop.signal,
    onProgress: (share) => share > 0 && stop.abort(),
  });
  await expect(stopped.open()).rejects.toMatchObject({ name: "AbortError" });
  expect(stopped.isOpen()).toBe(false);
  stopped.close();
  expect(await everythingOf(indexed)).toEqual(before);
  const database = new ReedpathDatabase(indexed);
  expect(await new DexieHistoryStore(database, countingIds()).count({})).toBe(110);
  expect((await new DexieHistoryUpkeep(database).verify()).differences).toEqual([]);
});

test("its takes are packed afterwards, sound the same, need less, and go on where that was stopped", async () => {
  const database = new ReedpathDatabase(await keptByVersion2(6));
  const history = new DexieHistoryStore(database, countingIds());
  const before = await history.open("old 3");
  const abort = new AbortController();
  let packed = 0;
  const upkeep = new DexieHistoryUpkeep(database, async (take) => {
    packed += 1;
    if (packed === 2) abort.abort();
    return packTakeHere(take);
  });
  await expect(upkeep.packTakes({ signal: abort.signal })).rejects.toThrow(/abort/i);
  expect(packed).toBe(2);
  expect(await upkeep.packTakes()).toBe(4);
  expect(await upkeep.packTakes()).toBe(0);
  expect((await history.open("old 3"))?.take).toEqual(before?.take);
  const { takes, takeBytes } = await upkeep.space();
  expect(takes).toBe(6);
  // [calc] 16 of 32 bits at the most.
  expect(takeBytes).toBeLessThan(6 * 16_000);
  expect((await upkeep.verify()).differences).toEqual([]);
});

test("what version 3 kept stays as it was, and what was tried at tunes is known without its lines", async () => {
  const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
  const history = new DexieHistoryStore(database, countingIds());
  for (const [n, played] of [...playedEntries(), ...playedEntries()].entries()) {
    const atEpochMs = NOON_MS + 43_200_000 * n;
    await history.save({ ...played, atEpochMs, zone: "Europe/Dublin", source: "microphone", take: null });
  }
  const indexed = { indexedDB: new IDBFactory(), IDBKeyRange };
  const before = new Dexie("reedpath", indexed);
  before.version(3).stores(VERSION_3);
  for (const name of Object.keys(VERSION_3)) {
    await before.table(name).bulkPut(await database.table(name).toArray());
  }
  before.close();
  const shares: number[] = [];
  const later = new ReedpathDatabase(indexed, { onProgress: (share) => shares.push(share) });
  const upgraded = new DexieHistoryStore(later, countingIds());
  // [calc] playedEntries holds two attempts at the tune, and was played through twice.
  expect(await upgraded.triesAt("t")).toHaveLength(4);
  expect(await upgraded.triesAtAll()).toEqual(await history.triesAtAll());
  expect(await upgraded.list()).toEqual(await history.list());
  expect((await new DexieHistoryUpkeep(later).verify()).differences).toEqual([]);
  expect(shares.at(-1)).toBe(1);
});
