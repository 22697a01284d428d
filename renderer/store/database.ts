import { Dexie, type EntityTable } from "dexie";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import type { OwnedHarp, OwnLayout } from "./harp-store.ts";
import { type HistoryLine, type NewEntry, StoreTrouble } from "./history-store.ts";

export const DATABASE_NAME = "reedpath";
export const SCHEMA_VERSION = 1;

/** What the history list reads: small, one for each attempt. */
export type LineRow = HistoryLine;

/** What reopening an attempt reads besides its take. */
export interface AttemptRow {
  readonly id: string;
  readonly atEpochMs: number;
  readonly source: NewEntry["source"];
  readonly exercise: Exercise;
  readonly attempt: Attempt;
}

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

/** The tables of schema version 1. A later schema adds a version below, never changes this one. */
export class ReedpathDatabase extends Dexie {
  declare lines: EntityTable<LineRow, "id">;
  declare attempts: EntityTable<AttemptRow, "id">;
  declare takes: EntityTable<TakeRow, "id">;
  declare settings: EntityTable<SettingsRow, "id">;
  declare layouts: EntityTable<OwnLayout, "id">;
  declare harps: EntityTable<OwnedHarp, "id">;

  /** @param indexedDb another database engine, for tests; the browser's own if left out */
  constructor(indexedDb?: { readonly indexedDB: IDBFactory; readonly IDBKeyRange: typeof IDBKeyRange }) {
    // Strict: a promise that says "kept" means on disk, not in the system's cache.
    super(DATABASE_NAME, { chromeTransactionDurability: "strict", ...indexedDb });
    this.version(SCHEMA_VERSION).stores({
      lines: "id, atEpochMs",
      attempts: "id",
      takes: "id",
      settings: "id",
      layouts: "id",
      harps: "id",
    });
    // Dexie opens a newer schema as if it were its own; writing into one we do not know could spoil the history.
    this.on("ready", () => this.refuseNewer(), true);
  }

  private refuseNewer(): void {
    // Dexie counts its versions in tenths.
    if (Math.floor(this.backendDB().version / 10) > SCHEMA_VERSION) throw newerVersion();
  }
}

const newerVersion = () =>
  new StoreTrouble("newer version", "the history was written by a newer version of this program");

/** Runs a database action, turning its failures into a sentence for the player. */
export async function orTrouble<T>(action: () => Promise<T>): Promise<T> {
  try {
    return await action();
  } catch (error) {
    throw troubleOf(error);
  }
}

function troubleOf(error: unknown): StoreTrouble {
  const chain = causesOf(error);
  const known = chain.find((cause) => cause instanceof StoreTrouble);
  if (known !== undefined) return known;
  const names = chain.map((cause) => ("name" in cause ? cause.name : null));
  if (names.includes("QuotaExceededError")) {
    return new StoreTrouble("full", "there is no room left on the disk for it");
  }
  if (names.includes("DatabaseClosedError") || names.includes("BlockedError")) {
    return new StoreTrouble("blocked", "the history is held by another window of this program");
  }
  const detail = error instanceof Error ? error.message.split("\n")[0] : String(error);
  return new StoreTrouble("unavailable", `the history cannot be used here (${detail})`);
}

/** Dexie wraps the browser's error in its own, sometimes twice. */
function causesOf(error: unknown): readonly object[] {
  const chain: object[] = [];
  for (let at = error; at instanceof Object && chain.length < 4; at = "inner" in at ? at.inner : null) {
    chain.push(at);
  }
  return chain;
}
