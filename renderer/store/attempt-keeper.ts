import type { ReedpathDatabase } from "./database.ts";
import type { StoredEntry } from "./history-entry.ts";
import type { AttemptKeeper } from "./history-store.ts";
import { type HistoryWriter, type Prepared, prepare } from "./history-writer.ts";
import { orTrouble } from "./store-trouble.ts";
import { bytesOfTake } from "./take-packing.ts";

/** Kept in one transaction at least, a fraction of a second of work; or as many as have so many bytes of takes. */
const AT_ONCE = 200;
const BYTES_AT_ONCE = 8 * 1024 * 1024;
/**
 * Kept in one transaction of a large history: one in so many of its attempts. Each transaction reads the days of the items it
 * touches, soon all there are; so that this grows with the attempts and not with their square, transactions grow too.
 */
const SHARE_AT_ONCE = 1 / 64;

/** Keeps any number of attempts: holds the packed ones of a transaction, and no more. */
export class DexieAttemptKeeper implements AttemptKeeper {
  private waiting = new Map<string, Prepared>();
  private bytes = 0;
  private atOnce: number | null = null;
  private kept = 0;

  constructor(
    private readonly database: ReedpathDatabase,
    private readonly writer: HistoryWriter,
  ) {}

  async add(entries: readonly StoredEntry[]): Promise<void> {
    await orTrouble("the history", async () => {
      const there = await this.thereOf(entries.map(({ id }) => id));
      for (const { take, ...entry } of entries) {
        if (there.has(entry.id)) continue;
        this.waiting.set(entry.id, prepare(entry, take));
        this.bytes += bytesOfTake(take) ?? 0;
        if (this.waiting.size >= (await this.most()) || this.bytes >= BYTES_AT_ONCE) await this.flush();
      }
    });
  }

  async finish(): Promise<number> {
    await orTrouble("the history", () => this.flush());
    return this.kept;
  }

  /** Attempts that the next transaction keeps. */
  private async most(): Promise<number> {
    this.atOnce ??= Math.max(AT_ONCE, Math.ceil(SHARE_AT_ONCE * (await this.database.lines.count())));
    return this.atOnce;
  }

  private async flush(): Promise<void> {
    const waiting = [...this.waiting.values()];
    this.waiting = new Map();
    this.bytes = 0;
    this.atOnce = null;
    if (waiting.length === 0) return;
    this.kept += await this.writer.transaction(async () => {
      // Another window may have brought some in meanwhile.
      const there = await this.thereOf(waiting.map(({ line }) => line.id));
      const fresh = waiting.filter(({ line }) => !there.has(line.id));
      await this.writer.put(fresh);
      return fresh.length;
    });
  }

  private async thereOf(ids: readonly string[]): Promise<ReadonlySet<string>> {
    return new Set(await this.database.lines.where("id").anyOf(ids).primaryKeys());
  }
}
