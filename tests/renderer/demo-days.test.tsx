import { act, renderHook, waitFor } from "@testing-library/react";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import type { DemoAttempt } from "../../core/simulate/demo-days.ts";
import { eveningBefore, madeUpDays } from "../../renderer/app/demo-entries.ts";
import { type DemoServices, useDemoDays } from "../../renderer/app/use-demo-days.ts";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryArchive } from "../../renderer/store/dexie-history-archive.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../renderer/store/dexie-history-upkeep.ts";
import { countingIds, newEntry } from "./store-entries.ts";

const NOON = Date.UTC(2026, 9, 1, 12);
/** The first days alone: a database made of memory is slow. */
let few: readonly DemoAttempt[];
beforeAll(() => {
  const days = madeUpDays({ zone: "UTC", lastBeginsEpochMs: NOON });
  few = [...(days.next().value ?? []), ...(days.next().value ?? [])];
}, 120_000);
afterEach(() => vi.restoreAllMocks());

async function world(changes: Partial<DemoServices> = {}) {
  const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
  await database.open();
  const store = new DexieHistoryStore(database, countingIds());
  const upkeep = new DexieHistoryUpkeep(database);
  let ids = 0;
  const services: DemoServices = {
    archive: new DexieHistoryArchive(database),
    upkeep,
    makeDemoDays: async (_, onProgress) => {
      onProgress(1);
      return few;
    },
    newId: () => `made up ${++ids}`,
    nowEpochMs: () => NOON,
    zone: () => "UTC",
    ...changes,
  };
  const onChanged = vi.fn();
  const { result } = renderHook(() => useDemoDays(services, onChanged));
  const ended = () => waitFor(() => expect(onChanged).toHaveBeenCalled(), { timeout: 20_000 });
  return { database, store, upkeep, result, onChanged, ended };
}

/** Everything in every table, as text. */
async function everything(database: ReedpathDatabase): Promise<readonly (readonly [string, string])[]> {
  return Promise.all(
    database.tables.map(async (table) => [table.name, JSON.stringify(await table.toArray())] as const),
  );
}

describe("the made-up days", () => {
  test("begin at six in the evening of the day before, on the clock here", () => {
    const evening = new Date(eveningBefore(new Date(2026, 9, 1, 9, 30).getTime()));
    expect(evening).toEqual(new Date(2026, 8, 30, 18, 0));
  });

  test("are of the tunes that come along, under the ids their list has", async () => {
    const tunes = few.filter(({ exercise }) => exercise.kind === "tune");
    expect(tunes.length).toBeGreaterThan(0);
    for (const { exercise } of tunes) expect(exercise.parameters.tuneId).toMatch(/^tune-[0-9a-f]{16}$/);
  });

  test("are added in one go, say that they are made up, and agree with a full recount", async () => {
    const { store, upkeep, result, ended } = await world();
    act(() => result.current.add());
    expect(result.current.work.kind).toBe("adding");
    await ended();
    const { attempts, demo } = await store.facets();
    expect([attempts, demo]).toEqual([few.length, few.length]);
    const lines = await store.page({ filter: {}, before: null, limit: 100 });
    expect(lines.every((line) => line.demo && line.takeBytes === null)).toBe(true);
    expect((await upkeep.verify()).differences).toEqual([]);
  });

  test("removed they leave everything as it was: the player's own, or nothing at all", async () => {
    const { database, store, upkeep, result, ended, onChanged } = await world();
    const emptyBefore = await everything(database);
    act(() => result.current.add());
    await ended();
    onChanged.mockClear();
    act(() => result.current.remove());
    await ended();
    expect(await everything(database)).toEqual(emptyBefore);

    await store.save(newEntry());
    const before = await everything(database);
    onChanged.mockClear();
    act(() => result.current.add());
    await ended();
    expect(await everything(database)).not.toEqual(before);
    onChanged.mockClear();
    act(() => result.current.remove());
    await ended();
    expect(await everything(database)).toEqual(before);
    expect(await upkeep.verify()).toMatchObject({ attempts: 1, different: 0 });
  });

  test("stopped while they are made or kept, none of them stays", async () => {
    const making = await world({
      makeDemoDays: (_, __, signal) =>
        new Promise((_resolve, reject) => signal.addEventListener("abort", () => reject(signal.reason))),
    });
    act(() => making.result.current.add());
    act(() => making.result.current.stop());
    await making.ended();
    expect(making.result.current.work).toEqual({ kind: "none" });
    expect(await making.store.count({})).toBe(0);

    const keeping = await world();
    const { keepMany } = DexieHistoryArchive.prototype;
    vi.spyOn(DexieHistoryArchive.prototype, "keepMany").mockImplementation(async function (
      this: DexieHistoryArchive,
      entries,
      work,
    ) {
      await keepMany.call(this, entries.slice(0, 3), {});
      keeping.result.current.stop();
      work?.signal?.throwIfAborted();
      return entries.length;
    });
    const { removeDemo } = keeping.upkeep;
    let goOn = () => {};
    const held = new Promise<void>((resolve) => {
      goOn = resolve;
    });
    const taking = vi.spyOn(keeping.upkeep, "removeDemo").mockImplementation(async (work) => {
      await held;
      return removeDemo.call(keeping.upkeep, work);
    });
    act(() => keeping.result.current.add());
    await waitFor(() => expect(keeping.result.current.work.kind).toBe("removing"));
    // Taking them away again is told as such, and can be stopped for itself.
    expect(taking.mock.lastCall?.[0]?.signal?.aborted).toBe(false);
    goOn();
    await keeping.ended();
    expect(await keeping.store.count({})).toBe(0);
  });

  test("that cannot be kept say why, and none of them stays", async () => {
    const { store, result, ended } = await world();
    vi.spyOn(DexieHistoryArchive.prototype, "keepMany").mockRejectedValue(new Error("the disk is full"));
    act(() => result.current.add());
    await ended();
    expect(result.current.work).toEqual({ kind: "trouble", words: "The disk is full." });
    expect(await store.count({})).toBe(0);
  });
});
