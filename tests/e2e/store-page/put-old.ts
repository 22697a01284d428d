import { DATABASE_NAME } from "../../../renderer/store/database.ts";
import type { StoredTake } from "../../../renderer/store/history-entry.ts";
import { unpackTake } from "../../../renderer/store/take-packing.ts";
import { type KeptDatabase, putBack, type Row, readKept } from "../../support/kept-rows.ts";
import { printOf } from "./made-sound.ts";

/** What was put there: ids of attempts, and of each take what its samples are. */
export interface PutOld {
  readonly ids: readonly string[];
  readonly takePrints: readonly (readonly [string, number])[];
}

/** Versions 1 and 2 kept no sums: there an attempt can stand many times, an hour apart, and its upgrade takes longer. */
export async function putOld(text: string, copies: number): Promise<PutOld> {
  const kept = readKept(text);
  const many = kept.version <= 20 ? manyTimes(kept, copies) : kept;
  await putBack(indexedDB, DATABASE_NAME, many);
  const takes = (kept.tables.takes?.rows ?? []) as unknown as (StoredTake & { readonly id: string })[];
  const prints = takes.map(async (take) => [take.id, printOf((await unpackTake(take)).samples)] as const);
  return {
    ids: (many.tables.lines?.rows ?? []).map(({ id }) => String(id)),
    takePrints: await Promise.all(prints),
  };
}

function manyTimes(kept: KeptDatabase, copies: number): KeptDatabase {
  const copied = (rows: readonly Row[]) =>
    Array.from({ length: copies }, (_, n) =>
      rows.map((row) =>
        n === 0 ? row : { ...row, id: `${row.id} ${n}`, atEpochMs: Number(row.atEpochMs) - n * 3_600_000 },
      ),
    ).flat();
  const tables = Object.entries(kept.tables).map(([name, table]) => [
    name,
    name === "lines" || name === "attempts" ? { ...table, rows: copied(table.rows) } : table,
  ]);
  return { ...kept, tables: Object.fromEntries(tables) };
}
