import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import type { Page } from "playwright-core";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { unpackAttempt } from "../../renderer/store/attempt-packing.ts";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryArchive } from "../../renderer/store/dexie-history-archive.ts";
import type { HistoryEntry, KeptTake } from "../../renderer/store/history-entry.ts";
import type { AttemptRow, TakeRow } from "../../renderer/store/rows.ts";
import type { Settings } from "../../renderer/store/settings-store.ts";
import { packTakeHere, unpackTake } from "../../renderer/store/take-packing.ts";

/** What the page's own database holds. */
export interface KeptAttempt {
  readonly id: string;
  readonly source: string;
  readonly exercise: Exercise;
  readonly attempt: Attempt;
  /** Largest sample of the kept take. */
  readonly peak: number;
  readonly takeSamples: number;
}

export async function keptAttempts(page: Page): Promise<readonly KeptAttempt[]> {
  const attempts = (await keptRows(page, "attempts")) as AttemptRow[];
  const takes = (await keptRows(page, "takes")) as TakeRow[];
  return Promise.all(
    attempts.map(async (row) => {
      const { id, source, exercise, attempt } = unpackAttempt(row);
      const take = takes.find((one) => one.id === id);
      const samples = take === undefined ? new Float32Array() : (await unpackTake(take)).samples;
      return {
        id,
        source,
        exercise,
        attempt,
        takeSamples: samples.length,
        peak: samples.reduce((a, b) => Math.max(a, Math.abs(b)), 0),
      };
    }),
  );
}

/** The samples of the one kept take. */
export async function keptTake(page: Page): Promise<KeptTake> {
  const [take] = (await keptRows(page, "takes")) as TakeRow[];
  if (take === undefined) throw new Error("no take was kept");
  return unpackTake(take);
}

/** Rows of a table as they are, read from outside the program's code; bytes come over as base64. */
export async function keptRows(page: Page, table: string): Promise<readonly unknown[]> {
  const rows = await page.evaluate(async (name) => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const all = await new Promise<Record<string, unknown>[]>((resolve, reject) => {
      const request = database.transaction(name).objectStore(name).getAll();
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    database.close();
    const sent = (value: unknown) => {
      if (!(value instanceof Uint8Array)) return value;
      let text = "";
      for (let at = 0; at < value.length; at += 8192)
        text += String.fromCharCode(...value.subarray(at, at + 8192));
      return { base64: btoa(text) };
    };
    return all.map((row) =>
      Object.fromEntries(Object.entries(row).map(([part, value]) => [part, sent(value)])),
    );
  }, table);
  return rows.map((row) =>
    Object.fromEntries(Object.entries(row).map(([part, value]) => [part, received(value)])),
  );
}

const received = (value: unknown): unknown =>
  typeof value === "object" && value !== null && "base64" in value
    ? Uint8Array.from(Buffer.from(String(value.base64), "base64"))
    : value;

/** Whose turn never comes: what is to be copied stays noted, and the page's second copy follows. */
const NEVER = {
  longestWaitMs: 0,
  open: () => Promise.reject(new Error("no second copy here")),
  isAlone: async () => true,
  inTurn: () => new Promise<never>(() => {}),
};

/** Puts entries into the page's own database as the program's store writes them, and opens the page again. */
export async function keepEntries(page: Page, entries: readonly HistoryEntry[]): Promise<void> {
  const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange, copyPlace: NEVER });
  const stored = await Promise.all(
    entries.map(async (entry) => ({ ...entry, take: entry.take && (await packTakeHere(entry.take)) })),
  );
  await new DexieHistoryArchive(database).keepMany(stored);
  const tables = [
    "lines",
    "attempts",
    "takes",
    "subjects",
    "days",
    "groupDays",
    "reedDays",
    "itemDays",
    "items",
    "meta",
    "uncopied",
  ];
  const rows = Object.fromEntries(
    await Promise.all(tables.map(async (name) => [name, (await database.table(name).toArray()).map(toSend)])),
  );
  database.close();
  await page.evaluate(async (kept: Record<string, Record<string, unknown>[]>) => {
    const opened = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const put = (value: unknown) => {
      if (typeof value !== "object" || value === null) return value;
      if ("base64" in value) return Uint8Array.from(atob(String(value.base64)), (one) => one.charCodeAt(0));
      return "floats" in value
        ? Float64Array.from(value.floats as (number | null)[], (one) => one ?? Number.NaN)
        : value;
    };
    const work = opened.transaction(Object.keys(kept), "readwrite");
    for (const [name, of] of Object.entries(kept)) {
      for (const row of of) {
        work
          .objectStore(name)
          .put(Object.fromEntries(Object.entries(row).map(([part, value]) => [part, put(value)])));
      }
    }
    await new Promise((resolve, reject) => {
      work.oncomplete = resolve;
      work.onerror = () => reject(work.error);
    });
    opened.close();
  }, rows);
  await page.reload();
}

/** Bytes and fractional numbers of a row in a form that goes into a page. */
const toSend = (row: object) =>
  Object.fromEntries(
    Object.entries(row).map(([part, value]) => [
      part,
      value instanceof Uint8Array
        ? { base64: Buffer.from(value).toString("base64") }
        : value instanceof Float64Array
          ? { floats: [...value].map((one) => (Number.isNaN(one) ? null : one)) }
          : value,
    ]),
  );

/** What the player set, as it is kept; null until something was. */
export async function keptSettings(page: Page): Promise<Settings | null> {
  return page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const row = await new Promise<{ value: Settings } | undefined>((resolve, reject) => {
      const request = database.transaction("settings").objectStore("settings").get("settings");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    database.close();
    return row?.value ?? null;
  });
}

/** Puts a row into a table from outside the program's code, once the program has made the table. */
export async function putRow(page: Page, table: string, row: unknown): Promise<void> {
  await page.evaluate(
    async ([name, value]) => {
      const database = await new Promise<IDBDatabase>((resolve, reject) => {
        const request = indexedDB.open("reedpath");
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
      await new Promise<void>((resolve, reject) => {
        const writing = database.transaction(name, "readwrite");
        writing.objectStore(name).put(value);
        writing.oncomplete = () => resolve();
        writing.onerror = () => reject(writing.error);
      });
      database.close();
    },
    [table, row] as const,
  );
}
