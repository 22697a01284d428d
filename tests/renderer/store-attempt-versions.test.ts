import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { expect, test } from "vitest";
import type { Attempt } from "../../core/score/attempt.ts";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { countingIds, newEntry } from "./store-entries.ts";

const historyOf = () =>
  new DexieHistoryStore(new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange }), countingIds());

test("an attempt kept by version 1 opens with nothing advised and nothing heard besides", async () => {
  const history = historyOf();
  const entry = newEntry();
  const { way: _way, advice: _advice, ornaments: _ornaments, ...old } = entry.attempt;
  const id = await history.save({ ...entry, attempt: { ...old, version: 1 } as unknown as Attempt });
  const opened = await history.open(id);
  expect(opened?.attempt).toMatchObject({ version: 2, way: "in time", advice: [], ornaments: [] });
  expect(opened?.attempt.marks).toHaveLength(entry.attempt.marks.length);
});

test("an attempt of a newer version is refused in words, and nothing of it is kept", async () => {
  const history = historyOf();
  const entry = newEntry();
  const newer = { ...entry, attempt: { ...entry.attempt, version: 99 } as unknown as Attempt };
  await expect(history.save(newer)).rejects.toThrow(/newer version of the program \(attempt version 99/);
  expect(await history.list()).toEqual([]);
});
