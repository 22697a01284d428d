import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { describe, expect, test } from "vitest";
import { groupOf, itemOf, likeOf } from "../../core/progress/counts/likeness.ts";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import type { HistoryStore } from "../../renderer/store/history-store.ts";
import { MemoryHistoryStore } from "../../renderer/store/memory-history-store.ts";
import { countingIds, newEntry, withId } from "./store-entries.ts";

const freshDatabase = () => new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });

const STORES: readonly (readonly [string, () => HistoryStore])[] = [
  ["in the database", () => new DexieHistoryStore(freshDatabase(), countingIds())],
  ["in memory", () => new MemoryHistoryStore(countingIds())],
];

describe.each(STORES)("the history %s", (_, makeStore) => {
  test("is empty at first and knows no attempt", async () => {
    const store = makeStore();
    expect(await store.list()).toEqual([]);
    expect(await store.open("attempt-1")).toBeNull();
  });

  test("gives an attempt back as it was kept, its take sample by sample", async () => {
    const store = makeStore();
    const entry = newEntry();
    const id = await store.save(entry);
    expect(id).toBe("attempt-1");
    expect(await store.open(id)).toEqual(withId(entry, id));
  });

  test("lists the newest attempt first, whatever order they were kept in", async () => {
    const store = makeStore();
    for (const atEpochMs of [2000, 3000, 1000]) await store.save(newEntry({ atEpochMs }));
    expect((await store.list()).map((line) => line.atEpochMs)).toEqual([3000, 2000, 1000]);
  });

  test("a line of the list says what was played, on which harp and how fast, and carries no samples", async () => {
    const store = makeStore();
    const entry = newEntry({ source: "recording" });
    await store.save(entry);
    // Words of the drill in tests/support: G harp, second position, crotchet = 90.
    expect(await store.list()).toEqual([
      {
        id: "attempt-1",
        atEpochMs: entry.atEpochMs,
        zone: "Europe/Dublin",
        day: "2026-09-21", // [calc] 1,790,000,000 s is 20,717 days and 51,200 s: 14:13 UTC, an hour later in Dublin in summer
        harpName: "G harp",
        position: 2,
        techniques: ["plain"],
        starred: false,
        demo: false,
        takeBytes: expect.any(Number),
        group: groupOf(likeOf(entry.exercise, entry.attempt)),
        item: itemOf(entry.exercise),
        source: "recording",
        title: entry.exercise.title,
        harp: "G harp, 2nd position",
        tempo: "♩ = 90",
        durationSeconds: 1, // [calc] 48 000 samples / 48 000 Hz
        summary: entry.attempt.summary,
      },
    ]);
  });

  test("a deleted attempt is gone and can be brought back under the same id", async () => {
    const store = makeStore();
    const entry = newEntry();
    const id = await store.save(entry);
    const deleted = await store.remove([id]);
    expect(deleted.entries.map((one) => one.id)).toEqual([id]);
    expect(await store.open(id)).toBeNull();
    expect(await store.list()).toEqual([]);
    await store.restore(deleted);
    expect(await store.open(id)).toEqual(withId(entry, id));
    expect(await store.list()).toHaveLength(1);
  });

  test("deleting what is not there gives nothing back and leaves the rest", async () => {
    const store = makeStore();
    const id = await store.save(newEntry());
    expect(await store.remove(["no such attempt"])).toEqual({ entries: [] });
    expect((await store.list()).map((line) => line.id)).toEqual([id]);
  });

  test("a take that is part of a longer recording is kept without the rest", async () => {
    const store = makeStore();
    const longer = Float32Array.from({ length: 1000 }, (_, i) => i);
    const id = await store.save(
      newEntry({ take: { samples: longer.subarray(100, 103), sampleRateHz: 44_100 } }),
    );
    const { take } = (await store.open(id)) ?? {};
    expect([...(take?.samples ?? [])]).toEqual([100, 101, 102]);
    expect(take?.sampleRateHz).toBe(44_100);
  });

  test("what the player does to a take afterwards does not reach the history", async () => {
    const store = makeStore();
    const samples = Float32Array.of(0.25, 0.5);
    const id = await store.save(newEntry({ take: { samples, sampleRateHz: 48_000 } }));
    samples.fill(0);
    expect([...((await store.open(id))?.take?.samples ?? [])]).toEqual([0.25, 0.5]);
  });
});
