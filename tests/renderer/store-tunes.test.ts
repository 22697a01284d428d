import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { describe, expect, test } from "vitest";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieTuneStore } from "../../renderer/store/dexie-tune-store.ts";
import { MemoryTuneStore } from "../../renderer/store/memory-tune-store.ts";
import type { KeptTune, TuneStore } from "../../renderer/store/tune-store.ts";

const STORES: readonly (readonly [string, () => TuneStore])[] = [
  [
    "in the database",
    () => new DexieTuneStore(new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange })),
  ],
  ["in memory", () => new MemoryTuneStore()],
];

const tune = (id: string, title: string): KeptTune => ({
  id,
  title,
  otherTitles: [],
  key: "D major",
  metre: "6/8",
  dance: "jig",
  begins: "ADFA",
  from: "band.abc",
  abc: `X:1\nT:${title}\nK:D\nAdfa|`,
});

describe.each(STORES)("the player's tunes %s", (_, makeStore) => {
  test("are listed by title, numbers in their order, and opened with their text", async () => {
    const store = makeStore();
    await store.keep([tune("c", "Dance 10"), tune("b", "Dance 9"), tune("a", "autumn")]);
    expect((await store.list()).map(({ title }) => title)).toEqual(["autumn", "Dance 9", "Dance 10"]);
    expect((await store.list())[0]).not.toHaveProperty("abc");
    expect((await store.open("b"))?.abc).toContain("T:Dance 9");
    expect(await store.open("none")).toBeNull();
  });

  test("one brought in again takes the place of the first", async () => {
    const store = makeStore();
    await store.keep([tune("a", "autumn")]);
    await store.keep([{ ...tune("a", "autumn"), from: "again.abc" }]);
    expect((await store.list()).map(({ from }) => from)).toEqual(["again.abc"]);
  });

  test("those deleted are given back whole, so that they can be kept again", async () => {
    const store = makeStore();
    await store.keep([tune("a", "autumn"), tune("b", "winter")]);
    const removed = await store.remove(["a", "none"]);
    expect(removed).toEqual([tune("a", "autumn")]);
    expect((await store.list()).map(({ id }) => id)).toEqual(["b"]);
    await store.keep(removed);
    expect(await store.open("a")).toEqual(tune("a", "autumn"));
  });

  test("what was set for a tune is kept by its id", async () => {
    const store = makeStore();
    expect(await store.study("a")).toBeNull();
    await store.keepStudy({ id: "a", danceBpm: 112, heard: ["listen 0-8 at 100 %"] });
    expect(await store.study("a")).toEqual({ id: "a", danceBpm: 112, heard: ["listen 0-8 at 100 %"] });
  });
});
