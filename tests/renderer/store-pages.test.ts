import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { beforeAll, describe, expect, test } from "vitest";
import { readPracticeDay } from "../../core/progress/practice-day.ts";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryArchive } from "../../renderer/store/dexie-history-archive.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import type { HistoryLine, StoredEntry } from "../../renderer/store/history-entry.ts";
import type { AttemptFilter, HistoryStore } from "../../renderer/store/history-store.ts";
import { MemoryHistoryStore } from "../../renderer/store/memory-history-store.ts";
import { exerciseOf } from "../support/drills.ts";
import { harp } from "../support/harps.ts";
import { playedEntries } from "./played-entries.ts";
import { countingIds } from "./store-entries.ts";

const HOUR_MS = 3_600_000;
/** 2026-06-01 at noon, UTC. */
const NOON_MS = 1_780_315_200_000;

/**
 * 520 attempts at one drill, an hour apart, every seventh with a star; between them, so rare that they are looked for by what they
 * were, 18 on another harp, two of an instant.
 */
function entries(): readonly StoredEntry[] {
  const [first, , other] = playedEntries();
  if (first === undefined || other === undefined) throw new RangeError("nothing was played");
  const onA = {
    ...other,
    exercise: { ...exerciseOf({ octaves: 2 }), harp: harp("A"), title: "Rare: 50 % of it" },
  };
  const common = { zone: "Europe/Dublin", source: "microphone", take: null } as const;
  const usual = Array.from({ length: 520 }, (_, n) => ({
    ...common,
    ...first,
    id: `usual ${n}`,
    atEpochMs: NOON_MS + HOUR_MS * n,
    ...(n % 7 === 0 ? { starred: true as const } : {}),
  }));
  const rare = Array.from({ length: 18 }, (_, n) => ({
    ...common,
    ...onA,
    id: `rare ${n}`,
    atEpochMs: NOON_MS + 30 * HOUR_MS * Math.floor(n / 2),
  }));
  return [...usual, ...rare];
}

const day = (text: string) => {
  const read = readPracticeDay(text);
  if (read === null) throw new RangeError(text);
  return read;
};

const FILTERS: readonly (readonly [string, AttemptFilter, number])[] = [
  ["nothing", {}, 538],
  ["a harp most are on", { harp: "G harp" }, 520],
  ["a rare harp", { harp: "A harp" }, 18],
  ["letters of a rare title, in any case", { title: " rARE: 50 % " }, 18],
  ["letters no title has", { title: "hornpipe" }, 0],
  ["a position nobody played in", { position: 5 }, 0],
  ["a technique all share", { technique: "plain" }, 538],
  ["stars", { starred: true }, 75], // [calc] 0, 7, … 518: 75 of 520
  ["stars on a rare harp", { starred: true, harp: "A harp" }, 0],
  // [calc] A day of practice begins at four in Dublin, three in UTC: from hour 15 after that noon to hour 39.
  ["one day", { from: day("2026-06-02"), to: day("2026-06-02") }, 26], // [calc] 24 usual ones, 2 rare at hour 30
  ["a rare harp since a day", { harp: "A harp", from: day("2026-06-03") }, 14], // [calc] hour 39 on: the 60th to the 240th
  ["stars until a day", { starred: true, to: day("2026-06-01") }, 3], // [calc] hours 0, 7 and 14
];

describe("reading page by page", () => {
  const stores: [string, HistoryStore][] = [];
  const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
  beforeAll(async () => {
    await new DexieHistoryArchive(database).keepMany(entries());
    const memory = new MemoryHistoryStore(countingIds());
    await memory.keepMany(entries());
    stores.push(["in the database", new DexieHistoryStore(database, countingIds())], ["in memory", memory]);
  }, 60_000);

  test.each(FILTERS)(
    "by %s gives each attempt once, newest first, as many as are counted",
    async (_, filter, count) => {
      expect(stores).toHaveLength(2);
      const read = [];
      for (const [, store] of stores) {
        expect(await store.count(filter)).toBe(count);
        read.push(await pagesOf(store, filter));
      }
      const [database, memory] = read;
      expect(database).toHaveLength(count);
      expect(new Set(database).size).toBe(count);
      expect(database).toEqual(memory);
    },
  );

  test("stops in the middle of reading where it is given up, and answers the next question", async () => {
    const store = new DexieHistoryStore(database, countingIds());
    const query = { filter: { harp: "G harp" }, before: null, limit: 200 };
    const whole = countedReading(database);
    expect(await store.page(query, whole.signal)).toHaveLength(200);
    expect(whole.read()).toBe(200);
    const stopped = countedReading(database, 5);
    await expect(store.page(query, stopped.signal)).rejects.toMatchObject({ name: "AbortError" });
    expect(stopped.read()).toBe(5);
    for (const [, each] of stores) {
      await expect(each.page(query, AbortSignal.abort())).rejects.toMatchObject({ name: "AbortError" });
      await expect(each.count({}, AbortSignal.abort())).rejects.toMatchObject({ name: "AbortError" });
      expect(await each.count(query.filter)).toBe(520);
    }
  });

  test("the newest are the last played, and what can be chosen is what was played", async () => {
    for (const [, store] of stores) {
      expect((await store.recent(2)).map(({ id }) => id)).toEqual(["usual 519", "usual 518"]);
      const { harps, positions, techniques, attempts, demo } = await store.facets();
      expect({ harps, positions, attempts, demo }).toEqual({
        harps: ["A harp", "G harp"],
        positions: [2],
        attempts: 538,
        demo: 0,
      });
      expect(techniques).toContain("plain");
    }
  });
});

/** Counts the lines that are read from now on, and gives up after so many. */
function countedReading({ lines }: ReedpathDatabase, stopAfter = Number.POSITIVE_INFINITY) {
  const stop = new AbortController();
  let count = 0;
  const onRead = (row: unknown) => {
    count += 1;
    if (count === stopAfter) stop.abort();
    return row;
  };
  lines.hook("reading", onRead);
  const read = () => {
    lines.hook("reading").unsubscribe(onRead);
    return count;
  };
  return { signal: stop.signal, read };
}

/** Ids of all pages, read with a page of 50. */
async function pagesOf(store: HistoryStore, filter: AttemptFilter): Promise<readonly string[]> {
  const ids: string[] = [];
  let before: HistoryLine | null = null;
  for (;;) {
    const page: readonly HistoryLine[] = await store.page({ filter, before, limit: 50 });
    ids.push(...page.map(({ id }) => id));
    before = page.at(-1) ?? null;
    if (page.length < 50) return ids;
  }
}
