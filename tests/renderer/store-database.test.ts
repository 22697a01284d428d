import { Dexie } from "dexie";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { describe, expect, test } from "vitest";
import { DATABASE_NAME, ReedpathDatabase, SCHEMA_VERSION } from "../../renderer/store/database.ts";
import { DexieHarpStore } from "../../renderer/store/dexie-harp-store.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieTuneStore } from "../../renderer/store/dexie-tune-store.ts";
import { lineOf } from "../../renderer/store/history-store.ts";
import { DexieSettingsStore } from "../../renderer/store/settings-store.ts";
import { orTrouble, StoreTrouble } from "../../renderer/store/store-trouble.ts";
import { countingIds, newEntry } from "./store-entries.ts";

/** The tables as version 1 had them. */
const VERSION_1 = {
  lines: "id, atEpochMs",
  attempts: "id",
  takes: "id",
  settings: "id",
  layouts: "id",
  harps: "id",
};

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

/** Its version and tables as the engine has them. */
const shapeOf = (database: Dexie) => {
  const { version, objectStoreNames } = database.backendDB();
  return { version, tables: [...objectStoreNames] };
};

describe("the database", () => {
  test("is called reedpath, and its version only ever grows", async () => {
    const indexed = engine();
    await new ReedpathDatabase(indexed).open();
    const found = await indexed.indexedDB.databases();
    // [calc] Dexie multiplies versions by ten.
    expect(found).toEqual([{ name: "reedpath", version: 60 }]);
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
    expect((await again.open(id))?.take?.samples).toHaveLength(48_000);
  });

  test("what version 1 kept is all there after the upgrade", async () => {
    const indexed = engine();
    const before = new Dexie(DATABASE_NAME, indexed);
    before.version(1).stores(VERSION_1);
    const { take, ...attempt } = { ...newEntry(), id: "old" };
    await before.table("lines").put(lineOf(attempt));
    await before.table("attempts").put(attempt);
    await before.table("takes").put({ ...take, id: "old" });
    before.close();
    const store = new DexieHistoryStore(new ReedpathDatabase(indexed), countingIds());
    expect((await store.list()).map(({ id }) => id)).toEqual(["old"]);
    expect((await store.open("old"))?.take?.samples).toHaveLength(48_000);
    expect(await store.triesAt("any")).toEqual([]);
  });

  test("a history written by a newer version is refused and left untouched", async () => {
    const indexed = engine();
    const newer = new Dexie(DATABASE_NAME, indexed);
    newer.version(SCHEMA_VERSION + 1).stores(VERSION_1);
    await newer.open();
    const before = shapeOf(newer);
    newer.close();
    const old = new DexieHistoryStore(new ReedpathDatabase(indexed), countingIds());
    for (const work of [() => old.list(), () => old.save(newEntry()), () => old.list()]) {
      const { trouble, message } = await troubleOf(work());
      expect(trouble).toBe("newer version");
      expect(message).toBe("a newer version of this program wrote the history");
    }
    await newer.open();
    expect(await newer.table("attempts").count()).toBe(0);
    // Dexie by itself would have added the tables it misses, and raised the version.
    expect(shapeOf(newer)).toEqual(before);
    newer.close();
  });

  test("one of this schema whose last figure an older program raised is opened", async () => {
    const indexed = engine();
    const first = new ReedpathDatabase(indexed);
    await new DexieHistoryStore(first, countingIds()).save(newEntry());
    first.close();
    await new Promise<void>((resolve) => {
      // [calc] a tenth above the schema.
      const raising = indexed.indexedDB.open(DATABASE_NAME, 10 * SCHEMA_VERSION + 1);
      raising.onsuccess = () => {
        raising.result.close();
        resolve();
      };
    });
    for (let times = 0; times < 2; times++) {
      const again = new ReedpathDatabase(indexed);
      expect(await new DexieHistoryStore(again, countingIds()).count({})).toBe(1);
      again.close();
    }
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

  test.each([
    ["the history", (nowhere) => new DexieHistoryStore(nowhere, countingIds()).list()],
    ["your layouts", (nowhere) => new DexieHarpStore(nowhere).layouts()],
    ["your harps", (nowhere) => new DexieHarpStore(nowhere).harps()],
    ["your tunes", (nowhere) => new DexieTuneStore(nowhere).list()],
    ["the settings", (nowhere) => new DexieSettingsStore(nowhere).load()],
  ] satisfies [string, (nowhere: ReedpathDatabase) => Promise<unknown>][])(
    "where there is no database at all, one sentence says so of %s",
    async (kept, read) => {
      const none = { indexedDB: undefined, IDBKeyRange: undefined } as unknown as ReturnType<typeof engine>;
      const { trouble, message } = await troubleOf(read(new ReedpathDatabase(none)));
      expect(trouble).toBe("unavailable");
      expect(message).toMatch(new RegExp(`^${kept} cannot be used here \\(.+\\)$`));
      expect(message).not.toContain("\n");
    },
  );

  test.each([
    [
      "a full disk inside another error",
      { name: "AbortError", inner: { name: "QuotaExceededError" } },
      "full",
      "there is no room left on the disk for your harps",
    ],
    [
      "a database another window closed",
      { name: "DatabaseClosedError" },
      "blocked",
      "another window of this program holds your harps",
    ],
    ["anything else", new Error("boom\nat line 3"), "unavailable", "your harps cannot be used here (boom)"],
  ] as const)("%s becomes a named trouble that says what is concerned", async (_, error, trouble, words) => {
    const told = await troubleOf(orTrouble("your harps", () => Promise.reject(error)));
    expect(told.trouble).toBe(trouble);
    expect(told.message).toBe(words);
  });
});
