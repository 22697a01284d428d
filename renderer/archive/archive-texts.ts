import { ArchiveLines, takeRecords } from "../../core/archive/write-archive.ts";
import { type ArchiveStore, SMALL_KINDS } from "../store/archive-store.ts";
import type { StoredEntry } from "../store/history-entry.ts";
import { archivedTake } from "./stored-takes.ts";

/** Records read at once; with takes one attempt, as a take may be long. */
const AT_ONCE = 50;

/**
 * Everything that is kept as the lines of an archive, never more than a few records of it in memory. What is kept or deleted
 * while it goes on is in it whole or not at all.
 *
 * @param onShare told the share of the attempts that are done, 0..1
 */
export async function* archiveTexts(
  store: ArchiveStore,
  withTakes: boolean,
  onShare: (share: number) => void,
): AsyncGenerator<string> {
  const lines = new ArchiveLines();
  yield lines.header();
  for (const kind of SMALL_KINDS) {
    for (const ids of inGroups(await store.ids(kind), AT_ONCE)) {
      for (const record of await store.records(kind, ids)) yield lines.record(record);
    }
  }
  const ids = await store.ids("attempt");
  let done = 0;
  for (const some of inGroups(ids, withTakes ? 1 : AT_ONCE)) {
    for (const entry of await store.attempts(some, withTakes)) yield* ofEntry(lines, entry);
    done += some.length;
    onShare(done / ids.length);
  }
  yield lines.end();
}

function* ofEntry(lines: ArchiveLines, { id, take, ...value }: StoredEntry): Generator<string> {
  yield lines.record({ kind: "attempt", id, value });
  if (take === null) return;
  const { about, bytes } = archivedTake(take);
  for (const record of takeRecords(id, about, bytes)) yield lines.record(record);
}

/** @param most at least 1 */
export function* inGroups<T>(all: readonly T[], most: number): Generator<readonly T[]> {
  for (let at = 0; at < all.length; at += most) yield all.slice(at, at + most);
}
