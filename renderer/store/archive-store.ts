import type { Table } from "dexie";
import type { ArchiveRecord, RecordKind } from "../../core/archive/archive-format.ts";
import { FACT_VERSION } from "../../core/progress/counts/session-fact.ts";
import { unpackAttempt } from "./attempt-packing.ts";
import type { ReedpathDatabase } from "./database.ts";
import { readEntries, readTables } from "./entry-reading.ts";
import type { StoredEntry } from "./history-entry.ts";
import { ENGINE } from "./second-copy/engine-log.ts";
import { NOTES } from "./second-copy/noted-changes.ts";
import { orTrouble } from "./store-trouble.ts";
import type { KeptTune } from "./tune-store.ts";
import { written } from "./written.ts";

/** Kinds of records but for the history. */
export type SmallKind = Exclude<RecordKind, "attempt" | "take">;
export const SMALL_KINDS: readonly SmallKind[] = [
  "settings",
  "layout",
  "harp",
  "tune",
  "study",
  "set list",
  "wish",
  "reed measurement",
];

type Row = Readonly<Record<string, unknown>>;

/** Everything that is kept, for archives. Every verb rejects with a StoreTrouble when it cannot do its work. */
export class ArchiveStore {
  constructor(private readonly database: ReedpathDatabase) {}

  /** In the order of archives. */
  async ids(kind: RecordKind): Promise<readonly string[]> {
    const keys = await orTrouble("what is kept", () => this.keysOf(kind).toCollection().primaryKeys());
    // The database orders texts by their UTF-16 code units, as archives do.
    return keys as readonly string[];
  }

  async count(kind: RecordKind): Promise<number> {
    return orTrouble("what is kept", () => this.keysOf(kind).count());
  }

  /** Those of the ids that are there, in their order, without what is made of other records. */
  async records(kind: SmallKind, ids: readonly string[]): Promise<readonly ArchiveRecord[]> {
    const rows = await orTrouble("what is kept", () => this.rows(kind, ids));
    return rows.flatMap((row, place) => {
      const id = ids[place];
      return row === undefined || id === undefined ? [] : [{ kind, id, value: bareValue(kind, row) }];
    });
  }

  /** What the take of each attempt needs; 0 for one without. No take is read. */
  async takeBytes(ids: readonly string[]): Promise<readonly number[]> {
    const rows = await orTrouble("the history", () => this.database.lines.bulkGet([...ids]));
    return rows.map((row) => row?.takeBytes ?? 0);
  }

  /** Attempts as they are stored; without takes no take is read. */
  async attempts(ids: readonly string[], withTakes: boolean): Promise<readonly StoredEntry[]> {
    return orTrouble("the history", () =>
      this.database.transaction("r", readTables(this.database), () =>
        withTakes ? readEntries(this.database, ids) : this.withoutTakes(ids),
      ),
    );
  }

  /** Which of the ids are there. */
  async there(kind: RecordKind, ids: readonly string[]): Promise<ReadonlySet<string>> {
    const keys = await orTrouble("what is kept", () =>
      this.keysOf(kind)
        .where(":id")
        .anyOf([...ids])
        .primaryKeys(),
    );
    return new Set(keys as readonly string[]);
  }

  /** Keeps records in place of those with the same ids; all or none. */
  async keep(kind: SmallKind, records: readonly ArchiveRecord[]): Promise<void> {
    await written(this.database, "what is kept", () =>
      this.database.transaction("rw", this.tablesOf(kind), async () => {
        if (kind === "tune") {
          const tunes = records.map(({ id, value }) => ({ ...(value as Omit<KeptTune, "id">), id }));
          await this.database.tuneTexts.bulkPut(tunes.map(({ id, abc }) => ({ id, abc })));
          await this.database.tunes.bulkPut(tunes.map(({ abc: _, ...line }) => line));
        } else {
          await this.table(kind).bulkPut(records.map(({ id, value }) => rowOf(kind, id, value)));
        }
      }),
    );
  }

  /** Forgets everything. */
  async wipe(): Promise<void> {
    const { tables, meta } = this.database;
    // What the second copy has to follow yet is what it must not forget.
    const own = tables.filter(({ name }) => name !== NOTES && name !== ENGINE);
    await written(this.database, "what is kept", () =>
      this.database.transaction("rw", own, async () => {
        const copy = await meta.get("copy");
        for (const table of own) await table.clear();
        // As in a database just made.
        await meta.put({ id: "rules", factVersion: FACT_VERSION });
        if (copy !== undefined) await meta.put(copy);
      }),
    );
  }

  private keysOf(kind: RecordKind): Table {
    if (kind === "attempt" || kind === "take")
      return kind === "take" ? this.database.takes : this.database.lines;
    return this.table(kind);
  }

  private table(kind: SmallKind): Table<Row, string> {
    const { settings, layouts, harps, tunes, tuneStudies, setLists, wishes, measurements } = this.database;
    const tables: Readonly<Record<SmallKind, unknown>> = {
      settings,
      layout: layouts,
      harp: harps,
      tune: tunes,
      study: tuneStudies,
      "set list": setLists,
      wish: wishes,
      "reed measurement": measurements,
    };
    // Rows of every kind are plain data here, looked through by whoever reads archives.
    return tables[kind] as Table<Row, string>;
  }

  private tablesOf(kind: SmallKind): Table[] {
    return kind === "tune" ? [this.table(kind), this.database.tuneTexts] : [this.table(kind)];
  }

  private async rows(kind: SmallKind, ids: readonly string[]): Promise<readonly (Row | undefined)[]> {
    return this.database.transaction("r", this.tablesOf(kind), async () => {
      const rows = await this.table(kind).bulkGet([...ids]);
      if (kind !== "tune") return rows;
      const texts = await this.database.tuneTexts.bulkGet([...ids]);
      return rows.map((row, place) => row && { ...row, abc: texts[place]?.abc ?? "" });
    });
  }

  private async withoutTakes(ids: readonly string[]): Promise<readonly StoredEntry[]> {
    const { lines, attempts } = this.database;
    const [lineRows, rows] = await Promise.all([lines.bulkGet([...ids]), attempts.bulkGet([...ids])]);
    return rows.flatMap((row, place): StoredEntry[] => {
      const line = lineRows[place];
      if (row === undefined || line === undefined) return [];
      return [{ ...unpackAttempt(row), ...(line.starred === 1 ? { starred: true } : {}), take: null }];
    });
  }
}

/** A row without its key. Settings lie in a row of their own form. */
function bareValue(kind: SmallKind, row: Row): unknown {
  if (kind === "settings") return row.value;
  const { [keyOf(kind)]: _, ...value } = row;
  return value;
}

function rowOf(kind: SmallKind, id: string, value: unknown): Row {
  return kind === "settings" ? { id, value } : { ...(value as Row), [keyOf(kind)]: id };
}

const keyOf = (kind: SmallKind) => (kind === "wish" ? "item" : "id");
