import { Dexie } from "dexie";
import type { LongWork } from "../history-store.ts";
import type { Tables } from "../tables.ts";
import { COPIED_TABLES, type CopiedTable, plainTable, type Row } from "./copied-tables.ts";
import { CopyDatabase } from "./copy-database.ts";
import type { CopyPlace } from "./copy-place.ts";
import { renewLog } from "./engine-log.ts";
import { type Key, type NotedChange, noteChanges } from "./noted-changes.ts";

/** Notes that are followed at once. */
const NOTES_AT_ONCE = 100;

/** Everything is in it; some things are not yet; or it cannot be written at present. */
export type CopyStanding = "whole" | "being made" | "behind";

/**
 * Keeps everything that cannot be counted anew a second time, in a database that lies in other files. It follows each change by
 * the notes made in its transaction: what is copied is always what stands there now, so that it comes out right in whatever order
 * windows copy, and however often.
 */
export class SecondCopy {
  /** Off where what is written came out of the copy: nothing is noted then, and the copy not written. */
  isNoting = true;
  private opened: Promise<CopyDatabase> | null = null;
  private isBehind = true;
  private going: Promise<void> = Promise.resolve();
  private next: Promise<void> | null = null;

  /** @param database not opened yet. @param schema its version */
  constructor(
    private readonly database: Tables,
    private readonly schema: number,
    private readonly place: CopyPlace,
  ) {
    noteChanges(database, {
      tables: new Set(COPIED_TABLES.map(({ from }) => from)),
      isOn: () => this.isNoting,
      onNote: () => {
        this.isBehind = true;
      },
      onDone: () => void this.following(),
    });
  }

  /**
   * Resolves once everything that was written before is in the copy, or after the longest wait. Never rejects: where the copy cannot
   * be written, the notes stay, and it follows another time.
   */
  async copied(): Promise<void> {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const enough = new Promise<void>((resolve) => {
      timer = setTimeout(resolve, this.place.longestWaitMs);
    });
    await Promise.race([this.following(), enough]);
    clearTimeout(timer);
  }

  /** The same for notes that were made by hand. */
  followed(): Promise<void> {
    this.isBehind = true;
    return this.copied();
  }

  private following(): Promise<void> {
    if (!this.isBehind || !this.isNoting) return this.going;
    this.next ??= this.going.then(async () => {
      this.next = null;
      this.isBehind = false;
      await outside(() => this.follow()).catch(() => {
        this.isBehind = true;
      });
    });
    this.going = this.next;
    return this.next;
  }

  /** Has the copy's log begun anew before anything else is written there; nobody waits for it but who waits for the copy. */
  renewLogFirst(): void {
    const renew = async () => {
      const copy = await this.open();
      if (!copy.wasMade) await this.place.inTurn(() => renewLog(copy.engine));
    };
    this.going = this.going.then(() => outside(renew)).catch(() => {});
  }

  /** Whether no other window is open. */
  isAlone(): Promise<boolean> {
    return this.place.isAlone();
  }

  /** The copy itself. Rejects where it cannot be opened. */
  open(): Promise<CopyDatabase> {
    this.opened ??= this.place.open().then(async (engine) => {
      const copy = new CopyDatabase(engine, this.schema);
      await copy.open();
      return copy;
    });
    this.opened.catch(() => {
      this.opened = null;
    });
    return this.opened;
  }

  /** Whether nothing in the copy is missing in the database: false in one that was just made. */
  async isTakenOver(): Promise<boolean> {
    return (await this.database.meta.get("copy")) !== undefined;
  }

  /** From now on nothing in the copy is missing in the database. */
  async takenOver(): Promise<void> {
    await this.database.meta.put({ id: "copy" });
  }

  /** Whether everything was copied once. */
  async isWhole(): Promise<boolean> {
    return (await (await this.open()).state.get("whole")) !== undefined;
  }

  /** How it stands with everything that was written before. */
  async standing(): Promise<CopyStanding> {
    await this.copied();
    try {
      if ((await this.database.uncopied.count()) > 0) return "behind";
      return (await this.isWhole()) ? "whole" : "being made";
    } catch {
      return "behind";
    }
  }

  /** Copies everything once. Stopped, or cut short, it goes on another time where it was. */
  async fill({ onProgress, signal }: LongWork = {}): Promise<void> {
    await this.going;
    const copy = await this.open();
    if (await this.isWhole()) return;
    const filled = await copy.state.get("filled");
    const begun = COPIED_TABLES.findIndex(({ from }) => filled?.id === "filled" && from === filled.table);
    for (let n = Math.max(0, begun); n < COPIED_TABLES.length; n++) {
      const table = COPIED_TABLES[n];
      if (table === undefined) break;
      let upTo = n === begun && filled?.id === "filled" ? filled.upTo : null;
      do {
        signal?.throwIfAborted();
        const from = upTo;
        upTo = await this.place.inTurn(() => outside(() => this.fillSome(copy, table, from)));
      } while (upTo !== null);
      onProgress?.((n + 1) / COPIED_TABLES.length);
    }
    await copy.state.put({ id: "whole" });
  }

  close(): void {
    this.opened?.then((copy) => copy.close()).catch(() => {});
    this.opened = null;
  }

  /** @returns the last key copied; null where there are no more */
  private async fillSome(copy: CopyDatabase, table: CopiedTable, after: Key | null): Promise<Key | null> {
    const own = plainTable(this.database, table.from);
    const rest = after === null ? own.toCollection() : own.where(":id").above(after);
    const keys = await rest.limit(table.atOnce).primaryKeys();
    const upTo = keys.at(-1);
    if (upTo === undefined) return null;
    const rows = await own.bulkGet(keys);
    await copy.transaction("rw", [copy.rowsOf(table), copy.state], async () => {
      await putOrDelete(copy, table, keys, rows);
      await copy.state.put({ id: "filled", table: table.from, upTo });
    });
    return upTo;
  }

  private follow(): Promise<void> {
    return this.place.inTurn(async () => {
      const { uncopied } = this.database;
      for (;;) {
        const notes = await uncopied.orderBy(":id").limit(NOTES_AT_ONCE).toArray();
        if (notes.length === 0) return;
        await this.copyNoted(await this.openOrForget(), notes);
        await uncopied.bulkDelete(notes.flatMap(({ number }) => number ?? []));
      }
    });
  }

  /**
   * Where there never was a copy, notes are of no use: everything is copied once there is one. In a browser that never lets it be
   * opened they would only grow.
   */
  private async openOrForget(): Promise<CopyDatabase> {
    try {
      return await this.open();
    } catch (error) {
      if (!(await this.isTakenOver())) await this.database.uncopied.clear();
      throw error;
    }
  }

  /** Everything small in one transaction, so that no attempt stands there without its take. */
  private async copyNoted(copy: CopyDatabase, notes: readonly NotedChange[]): Promise<void> {
    const tables = COPIED_TABLES.filter(({ from }) => notes.some(({ table }) => table === from));
    for (const table of tables) {
      if (notes.some((note) => note.table === table.from && "all" in note)) await this.copyAll(copy, table);
    }
    const changes = await this.database.transaction(
      "r",
      tables.map(({ from }) => this.database.table(from)),
      async () => Promise.all(tables.map((table) => changesOf(this.database, table, notes))),
    );
    await copy.transaction(
      "rw",
      tables.map((table) => copy.rowsOf(table)),
      async () => {
        for (const { table, ranges, keys, rows } of changes) {
          for (const [from, to] of ranges)
            await copy.rowsOf(table).where(":id").between(from, to, true, true).delete();
          await putOrDelete(copy, table, keys, rows);
        }
      },
    );
  }

  private async copyAll(copy: CopyDatabase, table: CopiedTable): Promise<void> {
    await copy.rowsOf(table).clear();
    const own = plainTable(this.database, table.from);
    const keys = await own.toCollection().primaryKeys();
    for (let at = 0; at < keys.length; at += table.atOnce) {
      const some = keys.slice(at, at + table.atOnce);
      await putOrDelete(copy, table, some, await own.bulkGet(some));
    }
  }
}

/** Outside of any transaction the caller may be in: it would end while another database is waited for. */
const outside = <T>(work: () => Promise<T>): Promise<T> => Promise.resolve(Dexie.ignoreTransaction(work));

interface Changes {
  readonly table: CopiedTable;
  readonly ranges: readonly (readonly [Key, Key])[];
  readonly keys: readonly Key[];
  readonly rows: readonly (Row | undefined)[];
}

/** What stands now where notes say that something changed. To be called within a transaction. */
async function changesOf(
  database: Tables,
  table: CopiedTable,
  notes: readonly NotedChange[],
): Promise<Changes> {
  const own = plainTable(database, table.from);
  const mine = notes.filter((note) => note.table === table.from);
  const ranges = mine.flatMap((note) => ("from" in note ? [[note.from, note.to] as const] : []));
  const keys = new Map<string, Key>();
  const add = (key: Key) => keys.set(JSON.stringify(key), key);
  for (const note of mine) if ("keys" in note) note.keys.forEach(add);
  for (const [from, to] of ranges) {
    for (const key of await own.where(":id").between(from, to, true, true).primaryKeys()) add(key);
  }
  const each = [...keys.values()];
  return { table, ranges, keys: each, rows: await own.bulkGet(each) };
}

async function putOrDelete(
  copy: CopyDatabase,
  table: CopiedTable,
  keys: readonly Key[],
  rows: readonly (Row | undefined)[],
): Promise<void> {
  const parts = rows.map((row) => (row === undefined ? null : table.part(row)));
  await copy.rowsOf(table).bulkDelete(keys.filter((_, place) => parts[place] === null));
  await copy.rowsOf(table).bulkPut(parts.filter((part) => part !== null));
}
