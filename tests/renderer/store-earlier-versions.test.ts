import { createHash } from "node:crypto";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { describe, expect, test } from "vitest";
import { DATABASE_NAME, ReedpathDatabase, SCHEMA_VERSION } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../renderer/store/dexie-history-upkeep.ts";
import type { StoredTake } from "../../renderer/store/history-entry.ts";
import { unpackTake } from "../../renderer/store/take-packing.ts";
import { EARLIER_VERSIONS, keptByVersion } from "../support/kept-database.ts";
import { putBack } from "../support/kept-rows.ts";
import { countingIds } from "./store-entries.ts";

/** [calc] what `write-kept.ts` plays: a clean recording, one with mistakes, a beginning; from version 2 on a tune. */
const ATTEMPTS = { 1: 3, 2: 4, 3: 4, 4: 4, 5: 4 } as const;

interface OldLine {
  readonly id: string;
  readonly atEpochMs: number;
  readonly title: string;
  readonly source: string;
  readonly summary: object;
}

async function opened(schema: (typeof EARLIER_VERSIONS)[number]) {
  const indexed = { indexedDB: new IDBFactory(), IDBKeyRange };
  const kept = keptByVersion(schema);
  await putBack(indexed.indexedDB, DATABASE_NAME, kept);
  const database = new ReedpathDatabase(indexed);
  await database.open();
  const history = new DexieHistoryStore(database, countingIds());
  return { indexed, kept, database, history, upkeep: new DexieHistoryUpkeep(database) };
}

/** Of every bit: comparing half a million numbers one by one takes a test runner seconds. */
const bits = (samples: Float32Array) => createHash("sha256").update(samples).digest("hex");

describe.each(EARLIER_VERSIONS)("a database that the program of schema %i wrote", (schema) => {
  test("opens with every attempt it had, its marks and the very samples of its take", async () => {
    const { kept, history, database } = await opened(schema);
    const lines = kept.tables.lines?.rows as unknown as readonly OldLine[];
    expect(lines).toHaveLength(ATTEMPTS[schema]);
    expect(database.backendDB().version).toBe(10 * SCHEMA_VERSION);
    const listed = await history.list();
    expect(listed.map(({ id }) => id).sort()).toEqual(lines.map(({ id }) => id).sort());
    for (const { id, atEpochMs, title, source, summary } of lines) {
      expect(listed.find((line) => line.id === id)).toMatchObject({ atEpochMs, title, source });
      const entry = await history.open(id);
      expect(entry?.attempt.summary).toEqual(summary);
      expect(entry?.attempt.marks).toHaveLength(entry?.exercise.notes.length ?? -1);
      const old = kept.tables.takes?.rows.find((row) => row.id === id) as unknown as StoredTake;
      const before = await unpackTake(old);
      expect(before.samples.length).toBeGreaterThan(before.sampleRateHz); // more than a second of sound
      expect(entry?.take?.sampleRateHz).toBe(before.sampleRateHz);
      expect(bits(entry?.take?.samples ?? new Float32Array())).toEqual(bits(before.samples));
    }
    database.close();
  });

  test("has sums that a recount agrees with, before its takes are packed and after", async () => {
    const { kept, database, history, upkeep } = await opened(schema);
    const { attempts, unreadable, differences } = await upkeep.verify();
    expect({ attempts, unreadable, differences }).toEqual({
      attempts: ATTEMPTS[schema],
      unreadable: 0,
      differences: [],
    });
    // [calc] versions 1 and 2 stored takes as they were.
    expect(await upkeep.packTakes()).toBe(schema < 3 ? ATTEMPTS[schema] : 0);
    expect((await upkeep.verify()).differences).toEqual([]);
    for (const row of kept.tables.takes?.rows ?? []) {
      const before = await unpackTake(row as unknown as StoredTake);
      const after = (await history.open(String(row.id)))?.take?.samples;
      expect(bits(after ?? new Float32Array())).toEqual(bits(before.samples));
    }
    const setBefore = kept.tables.settings?.rows[0]?.value;
    expect((await database.settings.get("settings"))?.value).toEqual(setBefore);
    // The attempt at a tune is known as one at a rung of it.
    const tries = [...(await history.triesAtAll()).values()].flat();
    expect(tries).toHaveLength(ATTEMPTS[schema] - 3);
    database.close();
  });

  test("can be practised on, and is no longer opened by the program that wrote it", async () => {
    const { kept, indexed, database, history, upkeep } = await opened(schema);
    const [first] = await history.list();
    const entry = await history.open(first?.id ?? "");
    if (entry === null) throw new Error("nothing was kept");
    const { id: _, starred: __, ...again } = entry;
    await history.save({ ...again, atEpochMs: entry.atEpochMs + 60_000 });
    expect(await history.count({})).toBe(ATTEMPTS[schema] + 1);
    expect((await upkeep.verify()).differences).toEqual([]);
    database.close();
    // Asked for under its old number, the engine itself refuses.
    const older = await new Promise<string>((resolve) => {
      const opening = indexed.indexedDB.open(DATABASE_NAME, kept.version);
      opening.onsuccess = () => resolve("opened");
      opening.onerror = () => resolve(opening.error?.name ?? "");
    });
    expect(older).toBe("VersionError");
  });
});

test("there is a file of every schema but the newest", () => {
  expect(EARLIER_VERSIONS.length).toBe(SCHEMA_VERSION - 1);
  expect(EARLIER_VERSIONS.map((schema) => keptByVersion(schema).version)).toEqual([10, 20, 30, 40, 50]);
});
