import { ArchiveLines, takeRecords } from "../../core/archive/write-archive.ts";
import { type ArchiveStore, SMALL_KINDS } from "../store/archive-store.ts";
import type { StoredEntry } from "../store/history-entry.ts";
import { archivedTake } from "./stored-takes.ts";

/** Records read at once: so many, or attempts with so many bytes of takes, one at least. */
const AT_ONCE = 100;
const BYTES_AT_ONCE = 4 * 1024 * 1024;

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
  for (const group of inGroups(ids, AT_ONCE)) {
    for (const some of withTakes ? byBytes(group, await store.takeBytes(group)) : [group]) {
      for (const entry of await store.attempts(some, withTakes)) yield* ofEntry(lines, entry);
      done += some.length;
      onShare(done / ids.length);
    }
  }
  yield lines.end();
}

/** Attempts alone, in the order of their ids, as the lines of an archive. */
export async function* entriesTexts(entries: AsyncIterable<StoredEntry>): AsyncGenerator<string> {
  const lines = new ArchiveLines();
  yield lines.header();
  for await (const entry of entries) yield* ofEntry(lines, entry);
  yield lines.end();
}

/** Neighbours together as long as their takes are not too much at once. @param bytes of the take of each */
function byBytes(ids: readonly string[], bytes: readonly number[]): readonly (readonly string[])[] {
  const groups: string[][] = [];
  let together = Number.POSITIVE_INFINITY;
  ids.forEach((id, place) => {
    const own = bytes[place] ?? 0;
    together += own;
    if (together > BYTES_AT_ONCE) {
      groups.push([]);
      together = own;
    }
    groups.at(-1)?.push(id);
  });
  return groups;
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
