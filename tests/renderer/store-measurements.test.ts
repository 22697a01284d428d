import { Dexie } from "dexie";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { describe, expect, test } from "vitest";
import type { KeptMeasurement } from "../../core/workshop/measure/measurement.ts";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHarpStore } from "../../renderer/store/dexie-harp-store.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieMeasurementStore } from "../../renderer/store/dexie-measurement-store.ts";
import type { MeasurementStore } from "../../renderer/store/measurement-store.ts";
import { MemoryMeasurementStore } from "../../renderer/store/memory-measurement-store.ts";
import { measurementValue } from "../support/archives.ts";
import { harp } from "../support/harps.ts";
import { VERSION_3 } from "./schema-versions.ts";
import { countingIds, newEntry } from "./store-entries.ts";

const KINDS: readonly (readonly [string, () => MeasurementStore])[] = [
  [
    "in the database",
    () => new DexieMeasurementStore(new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange })),
  ],
  ["in memory", () => new MemoryMeasurementStore()],
];

const measurement = (id: string, changes: Partial<KeptMeasurement> = {}): KeptMeasurement => ({
  ...measurementValue(changes),
  id,
});

describe.each(KINDS)("measurements %s", (_, make) => {
  test("are those of one harp, the latest begun first, kept whole", async () => {
    const store = make();
    await store.keep(measurement("a", { beganAtEpochMs: 1 }));
    await store.keep(measurement("b", { beganAtEpochMs: 3 }));
    await store.keep(measurement("c", { beganAtEpochMs: 2, harpId: "another" }));
    expect((await store.ofHarp("harp-1")).map(({ id }) => id)).toEqual(["b", "a"]);
    expect(await store.ofHarp("another")).toEqual([
      measurement("c", { beganAtEpochMs: 2, harpId: "another" }),
    ]);
    expect(await store.ofHarp("none")).toEqual([]);
  });

  test("one that goes on takes the place of its earlier state, and one removed is gone", async () => {
    const store = make();
    await store.keep(measurement("a"));
    await store.keep(measurement("a", { finished: true }));
    expect((await store.ofHarp("harp-1")).map(({ finished }) => finished)).toEqual([true]);
    await store.remove("a");
    expect(await store.ofHarp("harp-1")).toEqual([]);
  });
});

test("a history of version 3 has its harps and attempts, and room for measurements", async () => {
  const indexed = { indexedDB: new IDBFactory(), IDBKeyRange };
  const before = new Dexie("reedpath", indexed);
  before.version(3).stores(VERSION_3);
  await before.table("harps").put({ id: "harp-1", harp: harp("G"), note: "the band's" });
  before.close();
  const database = new ReedpathDatabase(indexed);
  const history = new DexieHistoryStore(database, countingIds());
  const measurements = new DexieMeasurementStore(database);
  expect(await new DexieHarpStore(database).harps()).toEqual([
    { id: "harp-1", harp: harp("G"), note: "the band's" },
  ]);
  await measurements.keep(measurement("a"));
  await history.save(newEntry());
  expect(await measurements.ofHarp("harp-1")).toEqual([measurement("a")]);
  expect(await history.count({})).toBe(1);
});
