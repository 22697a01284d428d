import { DexieAttemptKeeper } from "./attempt-keeper.ts";
import type { ReedpathDatabase } from "./database.ts";
import { readEntries, readTables } from "./entry-reading.ts";
import type { StoredEntry } from "./history-entry.ts";
import type { AttemptKeeper, HistoryArchive, LongWork } from "./history-store.ts";
import { HistoryWriter } from "./history-writer.ts";
import { orTrouble } from "./store-trouble.ts";

/** Attempts between two looks at whether that is to go on. */
const AT_ONCE = 200;

/** The whole history of the browser's database in and out. */
export class DexieHistoryArchive implements HistoryArchive {
  private readonly writer: HistoryWriter;

  constructor(private readonly database: ReedpathDatabase) {
    this.writer = new HistoryWriter(database);
  }

  ids(): Promise<readonly string[]> {
    return orTrouble("the history", () => this.database.lines.orderBy("[day+atEpochMs]").primaryKeys());
  }

  read(ids: readonly string[]): Promise<readonly StoredEntry[]> {
    return orTrouble("the history", () =>
      this.database.transaction("r", readTables(this.database), async () => readEntries(this.database, ids)),
    );
  }

  async keepMany(entries: readonly StoredEntry[], { onProgress, signal }: LongWork = {}): Promise<number> {
    // Neighbours share rows: each is then written once for many attempts.
    const inOrder = [...new Map(entries.map((entry) => [entry.id, entry])).values()].sort(
      (one, other) => one.atEpochMs - other.atEpochMs,
    );
    const keeper = this.keeper();
    for (let from = 0; from < inOrder.length; from += AT_ONCE) {
      signal?.throwIfAborted();
      await keeper.add(inOrder.slice(from, from + AT_ONCE));
      onProgress?.(Math.min(1, (from + AT_ONCE) / inOrder.length));
    }
    return keeper.finish();
  }

  keeper(): AttemptKeeper {
    return new DexieAttemptKeeper(this.database, this.writer);
  }
}
