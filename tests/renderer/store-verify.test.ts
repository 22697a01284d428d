import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { expect, test } from "vitest";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../renderer/store/dexie-history-upkeep.ts";
import { DexieProgressStore } from "../../renderer/store/dexie-progress-store.ts";
import { playedEntries } from "./played-entries.ts";
import { countingIds } from "./store-entries.ts";

const NOON_MS = 1_790_000_000_000;

async function eightAttempts() {
  const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
  const history = new DexieHistoryStore(database, countingIds());
  for (const [n, played] of [...playedEntries(), ...playedEntries()].slice(0, 8).entries()) {
    await history.save({
      ...played,
      atEpochMs: NOON_MS + 43_200_000 * n,
      zone: "Europe/Dublin",
      source: "microphone",
      take: { samples: Float32Array.of(0.5, 0.25), sampleRateHz: 48_000 },
    });
  }
  return { database, history, upkeep: new DexieHistoryUpkeep(database) };
}

/** One row of a table, changed. */
async function spoil(
  database: ReedpathDatabase,
  table: string,
  change: Record<string, unknown>,
): Promise<void> {
  const row = await database.table(table).toCollection().first();
  await database.table(table).put({ ...row, ...change });
}

const DAMAGES: readonly (readonly [string, (database: ReedpathDatabase) => Promise<unknown>, RegExp])[] = [
  ["a day's sum", (one) => spoil(one, "days", { attempts: 99 }), /minutes and attempts differ/],
  ["a day that is missing", (one) => one.days.clear(), /minutes and attempts missing/],
  [
    "a day without attempts",
    (one) => one.table("days").put({ day: "2020-02-02", attempts: 1, practisedMs: 1, demoAttempts: 0 }),
    /^2020-02-02: minutes and attempts without attempts$/,
  ],
  [
    "a group's sums",
    (one) => spoil(one, "groupDays", { counts: new Uint8Array(30) }),
    /sums of group .* differ/,
  ],
  ["reed actions", (one) => spoil(one, "reedDays", { firstAtEpochMs: 1 }), /reed actions of group .* differ/],
  ["tries of an item", (one) => spoil(one, "itemDays", { attempts: 7 }), /tries of .* differ/],
  [
    "attempts at a tune",
    (one) => spoil(one, "tuneDays", { numbers: new Float64Array(4) }),
    /attempts at tune t differ/,
  ],
  ["a day of a tune that is missing", (one) => one.tuneDays.clear(), /attempts at tune t missing/],
  [
    "what is known of an item",
    (one) => spoil(one, "items", { dueDay: "2020-01-01" }),
    /what is known of .* differs/,
  ],
  [
    "an item without days",
    (one) => spoil(one, "items", { item: "none" }),
    /what is known of none stands without days/,
  ],
  ["a line", (one) => spoil(one, "lines", { position: 9 }), /the line of ".*" differs from its attempt/],
  [
    "a line under another day",
    (one) => spoil(one, "lines", { day: "2020-01-01" }),
    /^2020-01-01: the line of/,
  ],
  ["an attempt out of the list", (one) => one.lines.delete("attempt-3"), /is not in the list/],
  ["a line of nothing", (one) => one.attempts.delete("attempt-3"), /line without an attempt \(attempt-3\)/],
  [
    "a count of what was played",
    (one) => spoil(one, "subjects", { attempts: 50 }),
    /there are \d attempts, not 50/,
  ],
  ["a line filed wrongly", (one) => spoil(one, "lines", { subject: 999 }), /is filed under something else/],
  ["a take that is gone", (one) => one.takes.delete("attempt-2"), /the take of .* is gone/],
  [
    "a take nobody knows",
    (one) => one.table("takes").put({ id: "x", sampleRateHz: 1, samples: new Float32Array(1) }),
    /a take is kept without an attempt \(x\)/,
  ],
  [
    "the room for takes",
    (one) => one.meta.put({ id: "takes", count: 1, bytes: 1 }),
    /8 takes need \d+ bytes/,
  ],
];

test.each(DAMAGES)("%s that is wrong is told in words and put right", async (_, damage, words) => {
  const { database, upkeep } = await eightAttempts();
  expect((await upkeep.verify()).differences).toEqual([]);
  await damage(database);
  const found = await upkeep.verify();
  expect(found.repaired).toBe(false);
  expect(found.differences.some((one) => words.test(one))).toBe(true);
  expect(found.different).toBe(found.differences.length);
  const again = await upkeep.verify();
  expect(again.differences).toEqual(found.differences);
  expect((await upkeep.verify({ repair: true })).repaired).toBe(true);
  expect((await upkeep.verify()).differences).toEqual([]);
});

test("an attempt whose bytes are damaged is told, counts nowhere, and hinders nothing else", async () => {
  const { database, history, upkeep } = await eightAttempts();
  await database.attempts.put({ id: "attempt-1", packed: Uint8Array.of(1, 2, 3) });
  const { differences } = await upkeep.verify({ repair: true });
  expect(differences.some((one) => /the attempt at ".*" cannot be read/.test(one))).toBe(true);
  expect(await upkeep.verify()).toMatchObject({ attempts: 7, unreadable: 1, differences: [] });
  expect((await history.remove(["attempt-2"])).entries).toHaveLength(1);
  expect(await upkeep.verify()).toMatchObject({ attempts: 6, unreadable: 1, differences: [] });
  // For a program that can read it.
  expect(await database.takes.get("attempt-1")).toBeDefined();
});

test("a recount says how far it is and can be stopped, and what it repaired is as before", async () => {
  const { database, upkeep } = await eightAttempts();
  const progress = new DexieProgressStore(database);
  const before = await progress.items();
  await database.items.clear();
  await database.groupDays.clear();
  const abort = new AbortController();
  const shares: number[] = [];
  const onProgress = (share: number) => {
    shares.push(share);
    abort.abort();
  };
  await expect(upkeep.verify({ repair: true, onProgress, signal: abort.signal })).rejects.toThrow(/abort/i);
  expect(shares).toHaveLength(1);
  expect(shares[0]).toBeLessThan(1);
  await upkeep.verify({ repair: true });
  expect(await progress.items()).toEqual(before);
  expect((await upkeep.verify()).differences).toEqual([]);
});

test("rules that changed since ask for a recount, and one that repairs settles it", async () => {
  const { database, upkeep } = await eightAttempts();
  expect(await upkeep.needsRecount()).toBe(false);
  await database.meta.put({ id: "rules", factVersion: 0 });
  expect(await upkeep.needsRecount()).toBe(true);
  await upkeep.verify();
  expect(await upkeep.needsRecount()).toBe(true);
  await upkeep.verify({ repair: true });
  expect(await upkeep.needsRecount()).toBe(false);
});
