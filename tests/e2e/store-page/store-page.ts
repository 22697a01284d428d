import { ReedpathDatabase } from "../../../renderer/store/database.ts";
import { DexieHistoryArchive } from "../../../renderer/store/dexie-history-archive.ts";
import { DexieHistoryStore } from "../../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../../renderer/store/dexie-history-upkeep.ts";
import type { AttemptFilter } from "../../../renderer/store/history-store.ts";
import { playedPool, type Some, someOfMany } from "./played-pool.ts";
import { practise, say } from "./practice-hour.ts";

const POOL_SEED = 11;
const AT_ONCE = 2000;
/** Days of the pool: what is marked anew each time the page opens should take no longer than opening it. */
const [ALL_DAYS, FEW_DAYS] = [30, 4];

const database = new ReedpathDatabase();
const history = new DexieHistoryStore(database, () => crypto.randomUUID());
const archive = new DexieHistoryArchive(database);
const upkeep = new DexieHistoryUpkeep(database);

const room = {
  /** Fills the database with a part of a large history, as the import of an archive does; seconds it took. */
  async fill(some: Some): Promise<number> {
    const pool = playedPool(POOL_SEED, ALL_DAYS);
    const began = performance.now();
    for (let at = some.from; at < some.to; at += AT_ONCE) {
      await archive.keepMany(someOfMany(pool, { ...some, from: at, to: Math.min(some.to, at + AT_ONCE) }));
    }
    return (performance.now() - began) / 1000;
  },
  /** Begins to practise and goes on until the page is gone. */
  practise(seed: number, startsEpochMs: number): void {
    practise(history, playedPool(POOL_SEED, FEW_DAYS), { seed, startsEpochMs }).catch(
      (error: unknown) =>
        void say({ said: "trouble", words: error instanceof Error ? error.message : String(error) }),
    );
  },
  /** How long a page of the list and its count take, in milliseconds. */
  async readMs(
    filter: AttemptFilter,
  ): Promise<{ readonly page: number; readonly count: number; readonly found: number }> {
    const began = performance.now();
    await history.page({ filter, before: null, limit: 100 });
    const paged = performance.now();
    const found = await history.count(filter);
    return { page: paged - began, count: performance.now() - paged, found };
  },
  ids: () => archive.ids(),
  verify: () => upkeep.verify(),
  async usedBytes(): Promise<number> {
    return (await navigator.storage.estimate()).usage ?? 0;
  },
};

declare global {
  var storeRoom: typeof room;
}
globalThis.storeRoom = room;
