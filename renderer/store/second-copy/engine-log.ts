import type { Table } from "dexie";

/** What the program knows of the engine that keeps a database. */
export type EngineRow =
  /** A window is open, or was when the program ended without being closed. */
  | { readonly id: "open" }
  /** Nothing, to be written and deleted. */
  | { readonly id: `nothing ${number}`; readonly bytes: Uint8Array };

/** Name of the table. */
export const ENGINE = "engine";

/** LevelDB begins another log once one holds four million bytes. */
const LOG_BYTES = 5_000_000;
/** The browser puts larger ones into files of their own, not into the log. */
const ROW_BYTES = 50_000;
/** It waits until all of the first log is in a table before it begins a third. */
const LOGS = 2;

/**
 * Has LevelDB begin a new log, and put away the one it has. A program that is killed while it writes leaves a record in the log of
 * which only the beginning is there. LevelDB takes that for the log's end, and goes on writing behind it; at the next opening it
 * finds a wrong checksum there, and Chromium then deletes the whole database. Once the log is put away, no such end is left.
 * Source: LevelDB, doc/log_format.md, and `reuse_logs` in db/db_impl.cc. Does nothing on other engines. Never rejects: on a full
 * disk the log stays.
 */
export async function renewLog(engine: Table<EngineRow, EngineRow["id"]>): Promise<void> {
  const nothing = Array.from({ length: LOG_BYTES / ROW_BYTES }, (_, n) => ({
    id: `nothing ${n}` as const,
    bytes: new Uint8Array(ROW_BYTES),
  }));
  const keys = nothing.map(({ id }) => id);
  try {
    for (let log = 0; log < LOGS; log++) {
      await engine.bulkPut(nothing);
      await engine.bulkDelete(keys);
    }
  } catch {
    await engine.bulkDelete(keys).catch(() => {});
  }
}
