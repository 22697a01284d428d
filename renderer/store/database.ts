import { Dexie, type EntityTable } from "dexie";
import type { OwnedHarp, OwnLayout } from "./harp-store.ts";
import type { HistoryEntry, HistoryLine } from "./history-store.ts";
import { NewerSchemaError } from "./store-trouble.ts";
import type { ListedTune, TuneStudy } from "./tune-store.ts";

export const DATABASE_NAME = "reedpath";
export const SCHEMA_VERSION = 2;

/** What the history list reads: small, one for each attempt. */
export type LineRow = HistoryLine;

/** What reopening an attempt reads besides its take. */
export type AttemptRow = Omit<HistoryEntry, "take">;

/** The samples, apart, so that nothing but hearing a take ever loads them. */
export interface TakeRow {
  readonly id: string;
  readonly sampleRateHz: number;
  readonly samples: Float32Array;
}

export interface SettingsRow {
  readonly id: "settings";
  readonly value: unknown;
}

/** A tune's text, apart, so that the list never loads it. */
export interface TuneTextRow {
  readonly id: string;
  readonly abc: string;
}

/** The tables. A later schema adds a version below, never changes an older one. */
export class ReedpathDatabase extends Dexie {
  declare lines: EntityTable<LineRow, "id">;
  declare attempts: EntityTable<AttemptRow, "id">;
  declare takes: EntityTable<TakeRow, "id">;
  declare settings: EntityTable<SettingsRow, "id">;
  declare layouts: EntityTable<OwnLayout, "id">;
  declare harps: EntityTable<OwnedHarp, "id">;
  declare tunes: EntityTable<ListedTune, "id">;
  declare tuneTexts: EntityTable<TuneTextRow, "id">;
  declare tuneStudies: EntityTable<TuneStudy, "id">;

  /** @param indexedDb another database engine, for tests; the browser's own if left out */
  constructor(indexedDb?: { readonly indexedDB: IDBFactory; readonly IDBKeyRange: typeof IDBKeyRange }) {
    // Strict: a promise that says "kept" means on disk, not in the system's cache.
    super(DATABASE_NAME, { chromeTransactionDurability: "strict", ...indexedDb });
    this.version(1).stores({
      lines: "id, atEpochMs",
      attempts: "id",
      takes: "id",
      settings: "id",
      layouts: "id",
      harps: "id",
    });
    this.version(SCHEMA_VERSION).stores({
      lines: "id, atEpochMs, tuneId",
      tunes: "id",
      tuneTexts: "id",
      tuneStudies: "id",
    });
    // Dexie opens a newer schema as if it were its own; writing into one we do not know could spoil it.
    this.on("ready", () => this.refuseNewer(), true);
  }

  private refuseNewer(): void {
    // Dexie counts its versions in tenths.
    if (Math.floor(this.backendDB().version / 10) > SCHEMA_VERSION) throw new NewerSchemaError();
  }
}
