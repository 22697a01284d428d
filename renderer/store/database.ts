import { FACT_VERSION } from "../../core/progress/counts/session-fact.ts";
import type { LongWork } from "./history-store.ts";
import { upToSchema } from "./own-schema.ts";
import { browserCopyPlace, type CopyPlace } from "./second-copy/copy-place.ts";
import { SecondCopy } from "./second-copy/second-copy.ts";
import { orTrouble } from "./store-trouble.ts";
import { Tables } from "./tables.ts";
import { fillFromVersion2 } from "./upgrade-from-2.ts";
import { fillTuneDays } from "./upgrade-from-3.ts";

export const DATABASE_NAME = "reedpath";
export const SCHEMA_VERSION = 6;

/** The database. A later schema adds a version below, never changes an older one. */
export class ReedpathDatabase extends Tables {
  /** Whether there was none before this one was opened. */
  wasMade = false;
  /** Null where the browser has no place for one. */
  readonly secondCopy: SecondCopy | null;

  /**
   * @param indexedDb another database engine, for tests; the browser's own if left out
   * @param upgrade for bringing an older history up to this version. Stopped, the database does not open and stays as it was.
   */
  constructor(indexedDb?: Engine, upgrade: LongWork = {}) {
    // Strict: a promise that says "kept" means on disk, not in the system's cache.
    super(DATABASE_NAME, { chromeTransactionDurability: "strict", ...ownEngine(indexedDb) });
    this.version(1).stores({
      lines: "id, atEpochMs",
      attempts: "id",
      takes: "id",
      settings: "id",
      layouts: "id",
      harps: "id",
    });
    this.version(2).stores({
      lines: "id, atEpochMs, tuneId",
      tunes: "id",
      tuneTexts: "id",
      tuneStudies: "id",
    });
    this.version(3).stores({
      lines:
        "id, [day+atEpochMs], [subject+day+atEpochMs], [starred+day+atEpochMs], tuneId, [group+day], [item+day], dropAt, demo",
      subjects: "++id, &key",
      days: "day",
      groupDays: "[group+day], day",
      reedDays: "[group+day], day",
      itemDays: "[item+day], day",
      items: "item",
      wishes: "item",
      setLists: "id",
      meta: "id",
    });
    this.version(4)
      .stores({
        lines:
          "id, [day+atEpochMs], [subject+day+atEpochMs], [starred+day+atEpochMs], [group+day], [item+day], dropAt, demo",
        tuneDays: "[tuneId+day], day",
        measurements: "id, harpId",
      })
      .upgrade(async () => this.fill(upgrade));
    this.version(5).stores({
      runningTakes: "id",
      takePieces: "[take+number]",
    });
    this.version(SCHEMA_VERSION).stores({
      uncopied: "++number",
      engine: "id",
    });
    const place = indexedDb === undefined ? browserCopyPlace() : (indexedDb.copyPlace ?? null);
    this.secondCopy = place === null ? null : new SecondCopy(this, SCHEMA_VERSION, place);
    this.on("populate", () => {
      this.wasMade = true;
      this.meta.put({ id: "rules", factVersion: FACT_VERSION });
    });
  }

  copied(): Promise<void> {
    return this.secondCopy?.copied() ?? Promise.resolve();
  }

  override close(options?: { disableAutoOpen: boolean }): void {
    this.secondCopy?.close();
    super.close(options);
  }

  /** In one go to what the newest version keeps: version 3 was the first that noted its rules. */
  private async fill(upgrade: LongWork): Promise<void> {
    if ((await this.meta.get("rules")) === undefined) await fillFromVersion2(this, upgrade);
    else await fillTuneDays(this, upgrade);
  }
}

interface Engine {
  readonly indexedDB: IDBFactory;
  readonly IDBKeyRange: typeof IDBKeyRange;
  /** Where the second copy lies; nowhere if left out. */
  readonly copyPlace?: CopyPlace;
}

/** Where there is no engine at all Dexie is to say so. */
function ownEngine(given: Engine | undefined): Partial<Engine> {
  const { indexedDB, IDBKeyRange } = given ?? globalThis;
  if (indexedDB === undefined) return {};
  return { indexedDB: upToSchema(indexedDB, SCHEMA_VERSION), IDBKeyRange };
}

/** Opens a database that could not be opened, or that was closed since. Rejects with a StoreTrouble where it cannot be. */
export async function openAgain(database: ReedpathDatabase): Promise<void> {
  if (database.isOpen()) return;
  // What kept it from opening is forgotten only so.
  database.close();
  await orTrouble("the history", async () => void (await database.open()));
}
