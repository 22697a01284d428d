import type { ReedpathDatabase } from "./database.ts";
import { readEntries, readTables } from "./entry-reading.ts";
import type { StoredEntry } from "./history-entry.ts";
import type { HistoryArchive, LongWork } from "./history-store.ts";
import { HistoryWriter, prepare } from "./history-writer.ts";
import { orTrouble } from "./store-trouble.ts";

/** Attempts written in one transaction: a fraction of a second of work. */
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
    let kept = 0;
    for (let from = 0; from < inOrder.length; from += AT_ONCE) {
      signal?.throwIfAborted();
      kept += await this.keepSome(inOrder.slice(from, from + AT_ONCE));
      onProgress?.(Math.min(1, (from + AT_ONCE) / inOrder.length));
    }
    return kept;
  }

  private keepSome(entries: readonly StoredEntry[]): Promise<number> {
    return orTrouble("the history", async () => {
      const there = await this.thereOf(entries);
      const prepared = entries
        .filter(({ id }) => !there.has(id))
        .map(({ take, ...entry }) => prepare(entry, take));
      return this.writer.transaction(async () => {
        // Another window may have brought some in meanwhile.
        const now = await this.thereOf(entries);
        const fresh = prepared.filter(({ line }) => !now.has(line.id));
        await this.writer.put(fresh);
        return fresh.length;
      });
    });
  }

  private async thereOf(entries: readonly StoredEntry[]): Promise<ReadonlySet<string>> {
    const ids = entries.map(({ id }) => id);
    return new Set(await this.database.lines.where("id").anyOf(ids).primaryKeys());
  }
}
