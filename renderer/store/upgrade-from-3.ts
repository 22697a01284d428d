import { Dexie } from "dexie";
import type { LongWork } from "./history-store.ts";
import { lineOfRow } from "./line-rows.ts";
import type { Tables } from "./tables.ts";
import { tuneDaysOf } from "./tune-tries.ts";

/**
 * Makes the days of tunes, which version 3 did not keep, day by day from the lines. To be called within the transaction of the
 * upgrade; where the signal says so it throws, which undoes the whole upgrade.
 */
export async function fillTuneDays(
  { lines, days, tuneDays }: Tables,
  { onProgress, signal }: LongWork,
): Promise<void> {
  const all = await days.toCollection().primaryKeys();
  for (const [done, day] of all.entries()) {
    signal?.throwIfAborted();
    const rows = await lines
      .where("[day+atEpochMs]")
      .between([day, Dexie.minKey], [day, Dexie.maxKey])
      .toArray();
    await tuneDays.bulkPut([...tuneDaysOf(rows.map(lineOfRow))]);
    onProgress?.((done + 1) / all.length);
  }
}
