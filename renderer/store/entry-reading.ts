import type { Table } from "dexie";
import { readAttempt } from "../../core/score/attempt-versions.ts";
import { unpackAttempt } from "./attempt-packing.ts";
import type { ReedpathDatabase } from "./database.ts";
import type { StoredEntry } from "./history-entry.ts";
import type { TakeRow } from "./rows.ts";
import { StoreTrouble } from "./store-trouble.ts";

export const readTables = ({ lines, attempts, takes }: ReedpathDatabase): Table[] => [lines, attempts, takes];

/**
 * Attempts that are there, whole, in the order of their ids, each once. To be called within a transaction of `readTables`.
 *
 * @throws StoreTrouble for one that a newer version marked
 */
export async function readEntries(
  { lines, attempts, takes }: ReedpathDatabase,
  ids: readonly string[],
): Promise<readonly StoredEntry[]> {
  const each = [...new Set(ids)];
  const [lineRows, rows, kept] = await Promise.all([
    lines.bulkGet(each),
    attempts.bulkGet(each),
    takes.bulkGet(each),
  ]);
  return rows.flatMap((row, place): StoredEntry[] => {
    const line = lineRows[place];
    if (row === undefined || line === undefined) return [];
    const bare = unpackAttempt(row);
    const read = readAttempt(bare.attempt);
    if (read.kind === "unreadable") throw new StoreTrouble("newer version", read.reason);
    const star = line.starred === 1 ? ({ starred: true } as const) : {};
    return [{ ...bare, ...star, attempt: read.attempt, take: takeOfRow(kept[place]) }];
  });
}

function takeOfRow(row: TakeRow | undefined): StoredEntry["take"] {
  if (row === undefined) return null;
  const { id: _, ...take } = row;
  return take;
}
