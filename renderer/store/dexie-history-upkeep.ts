import { FACT_VERSION } from "../../core/progress/counts/session-fact.ts";
import type { ReedpathDatabase } from "./database.ts";
import type { HistoryUpkeep, LongWork, Space, Verified } from "./history-store.ts";
import { HistoryWriter } from "./history-writer.ts";
import { removeMadeUp } from "./remove-made-up.ts";
import { orTrouble } from "./store-trouble.ts";
import { type PackTake, packTakeHere } from "./take-packing.ts";
import { verifyHistory } from "./verify-history.ts";

/** Takes deleted in one transaction. */
const AT_ONCE = 500;

/** Looking after the history in the browser's database. */
export class DexieHistoryUpkeep implements HistoryUpkeep {
  private readonly writer: HistoryWriter;

  constructor(
    private readonly database: ReedpathDatabase,
    private readonly packTake: PackTake = packTakeHere,
  ) {
    this.writer = new HistoryWriter(database);
  }

  async space(): Promise<Space> {
    const { meta, days } = this.database;
    return orTrouble("the history", async () => {
      const row = await meta.get("takes");
      const { count, bytes } = row?.id === "takes" ? row : { count: 0, bytes: 0 };
      const said = await globalThis.navigator?.storage?.estimate?.();
      return {
        takes: count,
        takeBytes: bytes,
        // Counting lines goes through all of them.
        withoutTake: (await days.toArray()).reduce((sum, { attempts }) => sum + attempts, 0) - count,
        usedBytes: said?.usage ?? null,
        quotaBytes: said?.quota ?? null,
      };
    });
  }

  fitTakes(): Promise<number> {
    return orTrouble("the history", () => this.writer.transaction(() => this.writer.fitTakes()));
  }

  async dropAllTakes({ onProgress, signal }: LongWork = {}): Promise<number> {
    return orTrouble("the history", async () => {
      const ids = await this.database.takes.toCollection().primaryKeys();
      let dropped = 0;
      for (let at = 0; at < ids.length; at += AT_ONCE) {
        signal?.throwIfAborted();
        const some = ids.slice(at, at + AT_ONCE);
        dropped += await this.writer.transaction(() => this.writer.dropTakes(some));
        onProgress?.(Math.min(1, (at + AT_ONCE) / ids.length));
      }
      return dropped;
    });
  }

  async packTakes({ onProgress, signal }: LongWork = {}): Promise<number> {
    const { meta, takes } = this.database;
    return orTrouble("the history", async () => {
      const row = await meta.get("plain takes");
      const ids = row?.id === "plain takes" ? row.ids : [];
      for (const [place, id] of ids.entries()) {
        signal?.throwIfAborted();
        const plain = await takes.get(id);
        const packed = plain !== undefined && "samples" in plain ? await this.packTake(plain) : null;
        await this.writer.transaction(async () => {
          if (packed !== null) await this.writer.replaceTake(id, packed);
          await meta.put({ id: "plain takes", ids: ids.slice(place + 1) });
        });
        onProgress?.((place + 1) / ids.length);
      }
      return ids.length;
    });
  }

  removeDemo(work?: LongWork): Promise<number> {
    return orTrouble("the history", () => removeMadeUp(this.database, this.writer, work));
  }

  async needsRecount(): Promise<boolean> {
    const row = await orTrouble("the history", () => this.database.meta.get("rules"));
    return row?.id !== "rules" || row.factVersion !== FACT_VERSION;
  }

  verify(work: LongWork & { readonly repair?: boolean } = {}): Promise<Verified> {
    return orTrouble("the history", () => verifyHistory(this.database, work));
  }
}
