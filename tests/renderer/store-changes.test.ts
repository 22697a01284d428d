import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { expect, test } from "vitest";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { onHistoryChange } from "../../renderer/store/history-changes.ts";
import { DexieSettingsStore } from "../../renderer/store/settings-store.ts";
import { playedEntries } from "./played-entries.ts";
import { countingIds, newEntry } from "./store-entries.ts";

test("who asks is told when an attempt is kept, deleted or brought back, and not of a setting", async () => {
  const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
  const history = new DexieHistoryStore(database, countingIds());
  const settings = new DexieSettingsStore(database);
  let told = 0;
  onHistoryChange(() => {
    told += 1;
  });
  const toldBy = async (work: () => Promise<unknown>) => {
    const before = told;
    await work();
    return told > before;
  };
  const first = await settings.load();
  expect(await toldBy(() => history.save(newEntry()))).toBe(true);
  expect(await toldBy(() => settings.save(first))).toBe(false);
  let removed: Awaited<ReturnType<typeof history.remove>> | null = null;
  expect(
    await toldBy(async () => {
      removed = await history.remove(["attempt-1"]);
    }),
  ).toBe(true);
  expect(await toldBy(() => history.restore(removed as never))).toBe(true);
  expect(await toldBy(() => history.list())).toBe(false);
});

test("what was tried at tunes is read once, and anew after any change", async () => {
  const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
  const history = new DexieHistoryStore(database, countingIds(), undefined, onHistoryChange);
  const atTune = playedEntries().find(({ exercise }) => exercise.parameters.tuneId === "t");
  if (atTune === undefined) throw new RangeError("no attempt at a tune");
  const save = (nth: number) => history.save(newEntry({ ...atTune, atEpochMs: 1_790_000_000_000 + nth }));
  await save(1);
  const first = await history.triesAtAll();
  expect(await history.triesAtAll()).toBe(first);
  expect(await history.triesAt("t")).toBe(first.get("t"));
  await save(2);
  expect(await history.triesAt("t")).toHaveLength(2);
  expect((await history.triesAtAll()).get("t")).toHaveLength(2);
  // By another window: a store of its own on the same database.
  await new DexieHistoryStore(database, () => "from elsewhere").save(newEntry(atTune));
  expect((await history.triesAtAll()).get("t")).toHaveLength(3);
});
