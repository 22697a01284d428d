import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { beforeEach, describe, expect, test } from "vitest";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../renderer/store/dexie-history-upkeep.ts";
import type { StoredTake } from "../../renderer/store/history-entry.ts";
import { packSamples } from "../../renderer/store/take-packing.ts";
import { countingIds, newEntry } from "./store-entries.ts";

/** A take like no other: a ramp of its own slope. */
function takeOf(number: number) {
  const samples = Float32Array.from({ length: 4800 }, (_, i) => (((i * number) % 60_000) - 30_000) / 32_768);
  return { samples, sampleRateHz: 48_000 };
}

const bytesOf = (take: StoredTake) =>
  Object.values(take).flatMap((value) => (ArrayBuffer.isView(value) ? [value] : []));

/** Every value of every table, as text; bytes as hexadecimal numbers. */
async function everything(database: ReedpathDatabase): Promise<string> {
  const rows = await Promise.all(database.tables.map(async (table) => [table.name, await table.toArray()]));
  return JSON.stringify(rows, (_, value: unknown) =>
    ArrayBuffer.isView(value)
      ? Buffer.from(value.buffer, value.byteOffset, value.byteLength).toString("hex")
      : value,
  );
}

let database: ReedpathDatabase;
let history: DexieHistoryStore;
let upkeep: DexieHistoryUpkeep;
beforeEach(() => {
  database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
  history = new DexieHistoryStore(database, countingIds());
  upkeep = new DexieHistoryUpkeep(database);
});

/** Whether any part of a take can be read anywhere in the database. */
async function isReadable(number: number): Promise<boolean> {
  const all = await everything(database);
  const parts = bytesOf(packSamples(takeOf(number)));
  expect(parts.length).toBeGreaterThan(0);
  return parts.some((part) => {
    const hex = Buffer.from(part.buffer, part.byteOffset, part.byteLength).toString("hex");
    // From the middle, as heads of packed takes are alike.
    return all.includes(hex.slice(hex.length / 2, hex.length / 2 + 400));
  });
}

async function threeTakes() {
  const ids: string[] = [];
  for (const number of [7, 11, 13]) ids.push(await history.save(newEntry({ take: takeOf(number) })));
  for (const number of [7, 11, 13]) expect(await isReadable(number)).toBe(true);
  return ids;
}

describe("deleted means gone", () => {
  test("one take: its sound is in no table, its marks and the sums stay, and all agrees", async () => {
    const [, second = ""] = await threeTakes();
    await history.star(second, true);
    expect(await history.dropTake(second)).toBe(true);
    expect(await isReadable(11)).toBe(false);
    expect([await isReadable(7), await isReadable(13)]).toEqual([true, true]);
    const entry = await history.open(second);
    expect(entry).toMatchObject({ take: null });
    expect(entry?.attempt.marks.length).toBeGreaterThan(0);
    expect(await upkeep.space()).toMatchObject({ takes: 2, withoutTake: 1 });
    expect((await upkeep.verify()).differences).toEqual([]);
    expect(await history.dropTake(second)).toBe(false);
    expect(await history.dropTake("none")).toBe(false);
  });

  test("all takes, starred or not, and those whose attempt is damaged away; every mark stays", async () => {
    const [first = ""] = await threeTakes();
    await history.star(first, true);
    await database.takes.put({ ...packSamples(takeOf(17)), id: "of nobody" });
    expect(await upkeep.dropAllTakes()).toBe(3);
    for (const number of [7, 11, 13, 17]) expect(await isReadable(number)).toBe(false);
    expect(await database.takes.count()).toBe(0);
    expect(await upkeep.space()).toMatchObject({ takes: 0, takeBytes: 0, withoutTake: 3 });
    expect((await upkeep.verify()).differences).toEqual([]);
    expect(await history.list()).toHaveLength(3);
    expect((await history.list()).filter(({ starred }) => starred)).toHaveLength(1);
    expect(await upkeep.dropAllTakes()).toBe(0);
  });

  test("an attempt: neither its sound nor its id is in any table; what undoing needs is in memory alone", async () => {
    const [first = "", second = ""] = await threeTakes();
    const removed = await history.remove([first]);
    expect(await isReadable(7)).toBe(false);
    const all = await everything(database);
    expect(all).not.toContain(first);
    expect(all).toContain(second);
    await history.restore(removed);
    expect(await isReadable(7)).toBe(true);
  });

  test("deleting all takes stops between transactions and leaves what is left whole", async () => {
    await threeTakes();
    const stop = new AbortController();
    stop.abort();
    await expect(upkeep.dropAllTakes({ signal: stop.signal })).rejects.toThrow();
    expect(await upkeep.space()).toMatchObject({ takes: 3 });
  });
});
