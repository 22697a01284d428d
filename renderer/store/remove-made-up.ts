import type { ReedpathDatabase } from "./database.ts";
import type { LongWork } from "./history-store.ts";
import type { HistoryWriter } from "./history-writer.ts";
import type { LineRow } from "./rows.ts";

/** Attempts deleted in one transaction: a fraction of a second of work. */
const AT_ONCE = 50;

/**
 * Deletes what was made up for the demonstration, some attempts at a time. Each transaction leaves a whole history, with the rest
 * of the made-up days in it: stopped in between, another call goes on. The set lists go first, so that nothing is left that is
 * not found by the attempts that are.
 *
 * @returns how many attempts went
 */
export async function removeMadeUp(
  database: ReedpathDatabase,
  writer: HistoryWriter,
  { onProgress, signal }: LongWork = {},
): Promise<number> {
  const { lines, setLists } = database;
  signal?.throwIfAborted();
  const made = (await lines.where("demo").equals(1).toArray()).sort(byDay);
  await setLists.filter(({ demo }) => demo === true).delete();
  let gone = 0;
  for (let from = 0; from < made.length; from += AT_ONCE) {
    signal?.throwIfAborted();
    gone += await removeSome(database, writer, made.slice(from, from + AT_ONCE));
    onProgress?.(Math.min(1, (from + AT_ONCE) / made.length));
  }
  if (made.length === 0) onProgress?.(1);
  return gone;
}

/** Neighbours share the rows that are counted anew. */
const byDay = (one: LineRow, other: LineRow) =>
  one.day < other.day ? -1 : one.day > other.day ? 1 : one.item < other.item ? -1 : 1;

/** With the wishes for items of which nothing is left. */
function removeSome(
  { items, wishes }: ReedpathDatabase,
  writer: HistoryWriter,
  some: readonly LineRow[],
): Promise<number> {
  return writer.transaction(async () => {
    const gone = await writer.remove(some.map(({ id }) => id));
    const touched = [...new Set(some.map(({ item }) => item))];
    const left = await items.bulkGet(touched);
    await wishes.bulkDelete(touched.filter((_, place) => left[place] === undefined));
    return gone;
  }, [wishes]);
}
