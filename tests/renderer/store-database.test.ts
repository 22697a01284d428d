import { Dexie } from "dexie";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { describe, expect, test } from "vitest";
import { DATABASE_NAME, orTrouble, ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { StoreTrouble } from "../../renderer/store/history-store.ts";
import { countingIds, newEntry } from "./store-entries.ts";

const engine = () => ({ indexedDB: new IDBFactory(), IDBKeyRange });

/** What a store's promise was rejected with. */
async function troubleOf(work: Promise<unknown>): Promise<StoreTrouble> {
  const error = await work.then(
    () => null,
    (reason: unknown) => reason,
  );
  if (error instanceof StoreTrouble) return error;
  throw new Error(`no StoreTrouble but ${String(error)}`);
}

describe("the database", () => {
  test("is called reedpath and begins at version 1, both of which every later version must find", async () => {
    const indexed = engine();
    await new ReedpathDatabase(indexed).open();
    const found = await indexed.indexedDB.databases();
    // [calc] Dexie multiplies versions by ten.
    expect(found).toEqual([{ name: "reedpath", version: 10 }]);
  });

  test("asks for strict durability", () => {
    expect(new ReedpathDatabase(engine())._options.chromeTransactionDurability).toBe("strict");
  });

  test("keeps what it had when it is opened again", async () => {
    const indexed = engine();
    const first = new ReedpathDatabase(indexed);
    const id = await new DexieHistoryStore(first, countingIds()).save(newEntry());
    first.close();
    const again = new DexieHistoryStore(new ReedpathDatabase(indexed), countingIds());
    expect((await again.open(id))?.take.samples).toHaveLength(48_000);
  });

  test("a history written by a newer version is refused and left untouched", async () => {
    const indexed = engine();
    const newer = new Dexie(DATABASE_NAME, indexed);
    const kept = { lines: "id, atEpochMs", attempts: "id", takes: "id", settings: "id" };
    newer.version(2).stores({ ...kept, layouts: "id", harps: "id" });
    await newer.open();
    newer.close();
    const old = new DexieHistoryStore(new ReedpathDatabase(indexed), countingIds());
    for (const work of [() => old.list(), () => old.save(newEntry()), () => old.list()]) {
      const { trouble, message } = await troubleOf(work());
      expect(trouble).toBe("newer version");
      expect(message).toBe("the history was written by a newer version of this program");
    }
    await newer.open();
    expect(await newer.table("attempts").count()).toBe(0);
  });

  test("an attempt is kept with its take or not at all", async () => {
    const database = new ReedpathDatabase(engine());
    const store = new DexieHistoryStore(database, countingIds());
    // No room is left when the take, the largest part, comes to be written.
    database.takes.hook("creating", () => {
      throw new DOMException("the disk is full", "QuotaExceededError");
    });
    expect((await troubleOf(store.save(newEntry()))).trouble).toBe("full");
    expect(await store.list()).toEqual([]);
    expect(await database.attempts.count()).toBe(0);
  });

  test("where there is no database at all, one sentence says so", async () => {
    const none = { indexedDB: undefined, IDBKeyRange: undefined } as unknown as ReturnType<typeof engine>;
    const store = new DexieHistoryStore(new ReedpathDatabase(none), countingIds());
    const { trouble, message } = await troubleOf(store.list());
    expect(trouble).toBe("unavailable");
    expect(message).toMatch(/^the history cannot be used here \(.+\)$/);
    expect(message).not.toContain("\n");
  });

  test.each([
    [
      "a full disk inside another error",
      { name: "AbortError", inner: { name: "QuotaExceededError" } },
      "full",
    ],
    ["a database another window closed", { name: "DatabaseClosedError" }, "blocked"],
    ["anything else", new Error("boom\nat line 3"), "unavailable"],
  ] as const)("%s becomes a named trouble", async (_, error, trouble) => {
    expect((await troubleOf(orTrouble(() => Promise.reject(error)))).trouble).toBe(trouble);
  });
});
