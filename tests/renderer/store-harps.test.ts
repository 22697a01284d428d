import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { describe, expect, test } from "vitest";
import { renameLayout } from "../../core/instrument/change-layout.ts";
import { harpInKey, withTemperament } from "../../core/instrument/harp.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHarpStore } from "../../renderer/store/dexie-harp-store.ts";
import type { HarpStore, OwnedHarp, OwnLayout } from "../../renderer/store/harp-store.ts";
import { MemoryHarpStore } from "../../renderer/store/memory-harp-store.ts";

const freshDatabase = () => new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });

const STORES: readonly (readonly [string, () => HarpStore])[] = [
  ["in the database", () => new DexieHarpStore(freshDatabase())],
  ["in memory", () => new MemoryHarpStore()],
];

const ownLayout = (id: string, name: string): OwnLayout => ({
  id,
  layout: { ...renameLayout(STANDARD_LAYOUT, "standard, changed"), name },
});

function owned(id: string, key: string, note = ""): OwnedHarp {
  const harp = harpInKey(STANDARD_LAYOUT, key);
  if (harp === null) throw new Error(`no ${key} harp`);
  return { id, harp: withTemperament(harp, { kind: "scheme", scheme: "just-sevenths" }), note };
}

describe.each(STORES)("the player's harps and layouts %s", (_, makeStore) => {
  test("are none at first", async () => {
    const store = makeStore();
    expect(await store.harps()).toEqual([]);
    expect(await store.layouts()).toEqual([]);
  });

  test("come back as they were kept, layout, temperament and note", async () => {
    const store = makeStore();
    const harp = owned("a", "D", "for the autumn dances");
    const layout = ownLayout("l", "my own");
    await store.keepHarp(harp);
    await store.keepLayout(layout);
    expect(await store.harps()).toEqual([harp]);
    expect(await store.layouts()).toEqual([layout]);
  });

  test("harps stand lowest key first, layouts by name, whatever order they were kept in", async () => {
    const store = makeStore();
    // Key notes: G3, A3, D4.
    for (const harp of [owned("1", "D"), owned("2", "G"), owned("3", "A")]) await store.keepHarp(harp);
    for (const layout of [ownLayout("1", "second"), ownLayout("2", "first")]) await store.keepLayout(layout);
    expect((await store.harps()).map((one) => one.harp.key)).toEqual(["G", "A", "D"]);
    expect((await store.layouts()).map((one) => one.layout.name)).toEqual(["first", "second"]);
  });

  test("a changed harp or layout takes the place of the one before", async () => {
    const store = makeStore();
    await store.keepHarp(owned("a", "G"));
    await store.keepHarp(owned("a", "A", "retuned"));
    await store.keepLayout(ownLayout("l", "before"));
    await store.keepLayout(ownLayout("l", "after"));
    expect(await store.harps()).toEqual([owned("a", "A", "retuned")]);
    expect((await store.layouts()).map((one) => one.layout.name)).toEqual(["after"]);
  });

  test("a deleted one is gone, alone, and can be kept again under the same id", async () => {
    const store = makeStore();
    const [low, high] = [owned("a", "G"), owned("b", "D")];
    await store.keepHarp(low);
    await store.keepHarp(high);
    await store.removeHarp("a");
    await store.removeHarp("never there");
    expect(await store.harps()).toEqual([high]);
    await store.keepHarp(low);
    expect(await store.harps()).toEqual([low, high]);
    const layout = ownLayout("l", "my own");
    await store.keepLayout(layout);
    await store.removeLayout("l");
    expect(await store.layouts()).toEqual([]);
  });
});
