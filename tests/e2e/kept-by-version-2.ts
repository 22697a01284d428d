import type { Page } from "playwright-core";
import { playedEntries } from "../renderer/played-entries.ts";

/** The tables as version 2 had them: the key of each, and indexes. */
const TABLES = {
  lines: ["atEpochMs", "tuneId"],
  attempts: [],
  takes: [],
  settings: [],
  layouts: [],
  harps: [],
  tunes: [],
  tuneTexts: [],
  tuneStudies: [],
} satisfies Record<string, readonly string[]>;

/** Fills the database of the page's origin as version 2 left it, an attempt an hour, without takes. */
export async function keepAsVersion2(page: Page, count: number): Promise<void> {
  const played = playedEntries();
  const made = await page.evaluate(
    ({ tables, played: pool, count: many }) =>
      new Promise<string>((resolve) => {
        // Dexie counts versions in tenths.
        const opening = indexedDB.open("reedpath", 20);
        opening.onupgradeneeded = () => {
          for (const [name, indexes] of Object.entries(tables)) {
            const table = opening.result.createObjectStore(name, { keyPath: "id" });
            for (const index of indexes) table.createIndex(index, index);
          }
        };
        opening.onsuccess = () => {
          const database = opening.result;
          const writing = database.transaction(["lines", "attempts"], "readwrite");
          for (let n = 0; n < many; n++) {
            const { exercise, attempt } = pool[n % pool.length] ?? {};
            const atEpochMs = 1_790_000_000_000 + 3_600_000 * n;
            const common = { id: `old ${n}`, atEpochMs, source: "microphone" };
            const { title } = exercise ?? {};
            const line = { ...common, title, harp: "G harp, 2nd position", tempo: "90", durationSeconds: 1 };
            writing.objectStore("lines").put({ ...line, summary: attempt?.summary });
            writing.objectStore("attempts").put({ ...common, exercise, attempt });
          }
          writing.oncomplete = () => {
            database.close();
            resolve("made");
          };
        };
      }),
    { tables: TABLES, played, count },
  );
  if (made !== "made") throw new Error("the old database could not be made");
}

/** What is in the attempts' table as it is, and the version of the database, without opening it in our own way. */
export function keptAsItIs(page: Page): Promise<{ version: number; attempts: number; tables: number }> {
  return page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const opening = indexedDB.open("reedpath");
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const database = opening.result;
          const counting = database.transaction("attempts").objectStore("attempts").count();
          counting.onsuccess = () => {
            const { version, objectStoreNames } = database;
            database.close();
            resolve({ version, attempts: counting.result, tables: objectStoreNames.length });
          };
        };
      }),
  );
}
