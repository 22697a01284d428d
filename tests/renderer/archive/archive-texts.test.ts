import { expect, test } from "vitest";
import { archiveTexts } from "../../../renderer/archive/archive-texts.ts";
import type { ArchiveStore } from "../../../renderer/store/archive-store.ts";

const MEGABYTE = 1e6;

/** A store of attempts whose takes need so much, which remembers what was read at once. */
function storeOf(bytes: Readonly<Record<string, number>>) {
  const readTogether: (readonly string[])[] = [];
  const store = {
    ids: async (kind: string) => (kind === "attempt" ? Object.keys(bytes) : []),
    takeBytes: async (ids: readonly string[]) => ids.map((id) => bytes[id] ?? 0),
    attempts: async (ids: readonly string[]) => {
      readTogether.push(ids);
      return [];
    },
  };
  return { readTogether, store: store as unknown as ArchiveStore };
}

async function readAll(store: ArchiveStore, withTakes: boolean): Promise<readonly number[]> {
  const shares: number[] = [];
  for await (const _ of archiveTexts(store, withTakes, (share) => shares.push(share)));
  return shares;
}

test("attempts are read together as far as their takes fit in four mebibytes, one at least", async () => {
  const bytes = { a: 3 * MEGABYTE, b: 3 * MEGABYTE, c: MEGABYTE, d: 0, e: 9 * MEGABYTE, f: 0 };
  const withTakes = storeOf(bytes);
  // [calc] 4 MiB are 4,194,304: 3 and 3 million are more, 3 and 1 and none are not, 9 are by themselves.
  expect(await readAll(withTakes.store, true)).toEqual([1 / 6, 4 / 6, 5 / 6, 1]);
  expect(withTakes.readTogether).toEqual([["a"], ["b", "c", "d"], ["e"], ["f"]]);
  const without = storeOf(bytes);
  expect(await readAll(without.store, false)).toEqual([1]);
  expect(without.readTogether).toEqual([["a", "b", "c", "d", "e", "f"]]);
});
