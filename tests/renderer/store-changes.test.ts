import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { expect, test } from "vitest";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { onHistoryChange } from "../../renderer/store/history-changes.ts";
import { DexieSettingsStore } from "../../renderer/store/settings-store.ts";
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
