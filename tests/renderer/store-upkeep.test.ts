import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { describe, expect, test } from "vitest";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryArchive } from "../../renderer/store/dexie-history-archive.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../renderer/store/dexie-history-upkeep.ts";
import type { NewEntry } from "../../renderer/store/history-entry.ts";
import { DexieSettingsStore, FIRST_SETTINGS } from "../../renderer/store/settings-store.ts";
import { playedEntries } from "./played-entries.ts";
import { countingIds } from "./store-entries.ts";

const PLAYED = playedEntries();
const NOON_MS = 1_790_000_000_000;

function rooms() {
  const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
  return {
    database,
    history: new DexieHistoryStore(database, countingIds()),
    archive: new DexieHistoryArchive(database),
    upkeep: new DexieHistoryUpkeep(database),
    settings: new DexieSettingsStore(database),
  };
}

/** The nth attempt, a day after the one before. @param take null for none */
function entry(n: number, take: NewEntry["take"] = null, demo = false): NewEntry {
  const played = PLAYED[n % PLAYED.length];
  if (played === undefined) throw new RangeError("nothing was played");
  return {
    ...played,
    atEpochMs: NOON_MS + 86_400_000 * n,
    zone: "Europe/Dublin",
    source: "microphone",
    take,
    ...(demo ? { demo: true } : {}),
  };
}

/** Noise, which no predictor foretells: 16 bits stay 16 bits. */
function noise(samples: number): NonNullable<NewEntry["take"]> {
  let state = 1;
  const next = () => {
    state = (1_103_515_245 * state + 12_345) % 2_147_483_648;
    return (Math.floor(state / 32_768) - 32_768) / 32_768;
  };
  return { samples: Float32Array.from({ length: samples }, next), sampleRateHz: 48_000 };
}

describe("the room for takes", () => {
  test("is made by dropping the oldest without a star; marks, stars and the take just kept stay", async () => {
    const { database, history, upkeep, settings } = rooms();
    // [calc] 2.4 million samples of about 2 bytes: 4.8 MB each; three of them pass 12 MB, two do not.
    await settings.save({ ...FIRST_SETTINGS, takesLimitMb: 12 });
    const ids = [];
    for (let n = 0; n < 2; n++) ids.push(await history.save(entry(n, noise(2_400_000))));
    const [oldest = "", second = ""] = ids;
    await history.star(oldest, true);
    const third = await history.save(entry(2, noise(2_400_000)));
    const open = async (id: string) => (await history.open(id))?.take?.samples.length ?? null;
    expect([await open(oldest), await open(second), await open(third)]).toEqual([2_400_000, null, 2_400_000]);
    expect((await history.open(second))?.attempt.marks.length).toBeGreaterThan(0);
    expect((await history.recent(3)).map(({ takeBytes }) => takeBytes !== null)).toEqual([true, false, true]);
    const { takes, takeBytes, withoutTake } = await upkeep.space();
    expect({ takes, withoutTake }).toEqual({ takes: 2, withoutTake: 1 });
    const kept = await database.takes.toArray();
    expect(takeBytes).toBe(kept.reduce((sum, row) => sum + ("packed" in row ? row.packed.byteLength : 0), 0));
    // A star taken away, the oldest is the first to go when there is less room. [calc] 9.6 MB fit 10 MB, 14.4 do not.
    await history.star(oldest, false);
    await settings.save({ ...FIRST_SETTINGS, takesLimitMb: 16 });
    const fourth = await history.save(entry(3, noise(2_400_000)));
    await settings.save({ ...FIRST_SETTINGS, takesLimitMb: 10 });
    expect(await upkeep.fitTakes()).toBe(1);
    expect([await open(oldest), await open(third), await open(fourth)]).toEqual([null, 2_400_000, 2_400_000]);
    expect((await upkeep.verify()).differences).toEqual([]);
  }, 60_000);
});

describe("what was made up", () => {
  test("goes in one step, and leaves everything as it was without it", async () => {
    const { database, history, upkeep } = rooms();
    for (let n = 0; n < 4; n++) await history.save(entry(n));
    const before = await dump(database);
    for (let n = 0; n < 7; n++) await history.save(entry(n, null, true));
    expect(await history.facets()).toMatchObject({ attempts: 11, demo: 7 });
    expect(await upkeep.removeDemo()).toBe(7);
    expect(await dump(database)).toEqual(before);
    expect((await upkeep.verify()).differences).toEqual([]);
  });

  test("stopped on the way, leaves a whole history and the rest of it; going on takes that away", async () => {
    const { database, history, archive, upkeep } = rooms();
    await history.save(entry(0));
    const before = await dump(database);
    const made = Array.from({ length: 120 }, (_, n) => ({
      ...entry(n, null, true),
      id: `made ${n}`,
      take: null,
    }));
    await archive.keepMany(made);
    await database.setLists.put({ id: "made up", name: "Autumn dance", demo: true, sets: [] });
    const items = await database.items.toArray();
    expect(items.length).toBeGreaterThan(2);
    await database.wishes.bulkPut(
      items.map(({ item }) => ({ item, kind: "suspended" as const, wishedAtEpochMs: NOON_MS })),
    );
    const own = (await history.recent(200)).filter(({ demo }) => !demo).map(({ id }) => id);
    const shares: number[] = [];
    const stopAt = (share: number) => {
      const stop = new AbortController();
      const onProgress = (done: number) => {
        shares.push(done);
        if (done >= share) stop.abort();
      };
      return upkeep.removeDemo({ signal: stop.signal, onProgress });
    };
    // [calc] fifty at once: 50 of 120, 50 of the 70 left.
    await expect(stopAt(0.1)).rejects.toMatchObject({ name: "AbortError" });
    expect(await history.facets()).toMatchObject({ attempts: 71, demo: 70 });
    expect((await upkeep.verify()).differences).toEqual([]);
    await expect(stopAt(0.1)).rejects.toMatchObject({ name: "AbortError" });
    expect(await history.facets()).toMatchObject({ attempts: 21, demo: 20 });
    expect((await upkeep.verify()).differences).toEqual([]);
    expect(await upkeep.removeDemo({ onProgress: (share) => shares.push(share) })).toBe(20);
    expect(shares).toEqual([50 / 120, 50 / 70, 1]);
    expect(await dump(database)).toEqual(before);
    expect((await history.recent(2)).map(({ id }) => id)).toEqual(own);
    expect(await database.setLists.count()).toBe(0);
    const left = (await database.items.toArray()).map(({ item }) => item);
    expect((await database.wishes.toArray()).map(({ item }) => item)).toEqual(left);
  }, 60_000);

  test("stays where that was stopped before it began", async () => {
    const { history, upkeep } = rooms();
    await history.save(entry(0, null, true));
    await expect(upkeep.removeDemo({ signal: AbortSignal.abort() })).rejects.toThrow(/abort/i);
    expect(await history.count({})).toBe(1);
  });
});

describe("the archive's way in", () => {
  test("keeps each attempt once, takes and stars with it, and says how many were new", async () => {
    const from = rooms();
    const starred = await from.history.save(entry(0, noise(1000)));
    await from.history.star(starred, true);
    for (let n = 1; n < 5; n++) await from.history.save(entry(n));
    const entries = await from.archive.read(await from.archive.ids());
    expect(entries.map(({ id }) => id)).toEqual([1, 2, 3, 4, 5].map((n) => `attempt-${n}`));
    const to = rooms();
    const shares: number[] = [];
    const onProgress = (share: number) => shares.push(share);
    expect(await to.archive.keepMany([...entries, ...entries], { onProgress })).toBe(5);
    expect(shares.at(-1)).toBe(1);
    expect(await to.archive.keepMany(entries)).toBe(0);
    expect(await dump(to.database)).toEqual(await dump(from.database));
    expect(await to.archive.read(await to.archive.ids())).toEqual(entries);
  });

  test("takes any number as they come, and keeps each once, some hundred at a time", async () => {
    const { archive, upkeep } = rooms();
    const entries = Array.from({ length: 230 }, (_, n) => ({ ...entry(n), id: `in ${n}`, take: null }));
    const keeper = archive.keeper();
    await keeper.add(entries.slice(0, 150));
    expect(await archive.ids()).toHaveLength(0);
    await keeper.add(entries.slice(100, 230));
    expect(await archive.ids()).toHaveLength(200);
    await keeper.add(entries.slice(0, 10));
    expect(await keeper.finish()).toBe(230);
    expect(await archive.ids()).toHaveLength(230);
    expect((await upkeep.verify()).differences).toEqual([]);
  });

  test("stopped, leaves whole what it has kept so far", async () => {
    const { archive, upkeep } = rooms();
    const entries = Array.from({ length: 250 }, (_, n) => {
      return { ...entry(n), id: `in ${n}`, take: null };
    });
    const abort = new AbortController();
    const work = archive.keepMany(entries, { signal: abort.signal, onProgress: () => abort.abort() });
    await expect(work).rejects.toThrow(/abort/i);
    expect(await archive.ids()).toHaveLength(200);
    expect((await upkeep.verify()).differences).toEqual([]);
  });
});

/** Everything but numbers the database gives out itself. */
async function dump({
  days,
  groupDays,
  reedDays,
  itemDays,
  items,
  lines,
  subjects,
  attempts,
  meta,
}: ReedpathDatabase) {
  const listed = await lines.toArray();
  const named = await subjects.toArray();
  return {
    rows: await Promise.all(
      [days, groupDays, reedDays, itemDays, items, attempts, meta].map((one) => one.toArray()),
    ),
    lines: listed.map(({ subject: _, ...line }) => line),
    subjects: named.map(({ key, attempts: count }) => [key, count]).sort(),
  };
}
