import type { ReedpathDatabase } from "../database.ts";
import type { VerifyReport } from "../verify-report.ts";
import { COPIED_TABLES, type CopiedTable, plainTable } from "./copied-tables.ts";
import type { CopyDatabase } from "./copy-database.ts";
import type { Key } from "./noted-changes.ts";

/** Keys that are noted at once. */
const AT_ONCE = 1000;

/**
 * Whether the second copy has every row that it should have and no other; with repair it follows what differs. One that is not
 * whole yet, cannot be opened, or holds what was not brought back yet, is left alone.
 */
export async function verifyCopy(
  database: ReedpathDatabase,
  report: VerifyReport,
  signal?: AbortSignal,
): Promise<void> {
  const { secondCopy } = database;
  if (secondCopy === null || !(await secondCopy.isTakenOver())) return;
  if ((await secondCopy.standing()) !== "whole") return;
  const copy = await secondCopy.open();
  for (const table of COPIED_TABLES) {
    signal?.throwIfAborted();
    const found = await differentKeys(database, copy, table);
    if (found.length === 0) continue;
    // Some may have been written meanwhile.
    await database.copied();
    const keys = await stillDifferent(database, copy, table, found);
    if (keys.length === 0) continue;
    report.tell(`the second copy of ${table.what} lacks or has what it should not: ${keys.length} in all`);
    for (let from = 0; report.repair && from < keys.length; from += AT_ONCE) {
      await database.uncopied.add({ table: table.from, keys: keys.slice(from, from + AT_ONCE) });
    }
  }
  if (report.repair) await secondCopy.followed();
}

/** Of rows that are in one of the two only. */
async function differentKeys(
  database: ReedpathDatabase,
  copy: CopyDatabase,
  table: CopiedTable,
): Promise<readonly Key[]> {
  const own = plainTable(database, table.from).filter((row) => table.part(row) !== null);
  const there = new Map((await own.primaryKeys()).map((key) => [JSON.stringify(key), key]));
  const different: Key[] = [];
  for (const key of await copy.rowsOf(table).toCollection().primaryKeys()) {
    if (!there.delete(JSON.stringify(key))) different.push(key);
  }
  return [...different, ...there.values()];
}

async function stillDifferent(
  database: ReedpathDatabase,
  copy: CopyDatabase,
  table: CopiedTable,
  keys: readonly Key[],
): Promise<readonly Key[]> {
  const rows = await plainTable(database, table.from).bulkGet([...keys]);
  const copied = await copy.rowsOf(table).bulkGet([...keys]);
  return keys.filter((_, place) => {
    const row = rows[place];
    const has = row !== undefined && table.part(row) !== null;
    return has !== (copied[place] !== undefined);
  });
}
