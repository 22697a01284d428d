import { entriesTexts } from "../../../renderer/archive/archive-texts.ts";
import { bringIn } from "../../../renderer/archive/bring-in.ts";
import { gzipped } from "../../../renderer/archive/gzip.ts";
import { ArchiveStore } from "../../../renderer/store/archive-store.ts";
import { ReedpathDatabase } from "../../../renderer/store/database.ts";
import { DexieHistoryArchive } from "../../../renderer/store/dexie-history-archive.ts";
import { DexieHistoryStore } from "../../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../../renderer/store/dexie-history-upkeep.ts";
import { DexieRunningTakes } from "../../../renderer/store/dexie-running-takes.ts";
import type { AttemptFilter } from "../../../renderer/store/history-store.ts";
import { bringBack } from "../../../renderer/store/second-copy/bring-back.ts";
import { openWell } from "../../../renderer/store/second-copy/open-well.ts";
import { browserLocks } from "../../../renderer/store/take-locks.ts";
import { type LookedAtAll, lookAtAll } from "./look-at-all.ts";
import { playedPool, type Some, someOfMany } from "./played-pool.ts";
import { PracticeHour, say } from "./practice-hour.ts";
import { putOld } from "./put-old.ts";

const POOL_SEED = 11;
const AT_ONCE = 2000;
/** Days of the pool: what is marked anew each time the page opens should take no longer than opening it. */
const [ALL_DAYS, FEW_DAYS] = [30, 4];

const database = new ReedpathDatabase();
const history = new DexieHistoryStore(database, () => crypto.randomUUID());
const archive = new DexieHistoryArchive(database);
const upkeep = new DexieHistoryUpkeep(database);
const runningTakes = new DexieRunningTakes(database, browserLocks(navigator.locks), () =>
  crypto.randomUUID(),
);

let opening: Promise<number> | null = null;
/** As the program opens it. @returns attempts that the second copy gave back */
const opened = (): Promise<number> => {
  opening ??= (async () => {
    await database.open();
    let back = 0;
    await openWell(database, async () => {
      back = await bringBack(database);
    });
    return back;
  })();
  return opening;
};

const tellTrouble = (error: unknown) =>
  void say({ said: "trouble", words: error instanceof Error ? error.message : String(error) });

const room = {
  /** Fills the database with a part of a large history, as the import of an archive does; seconds it took. */
  async fill(some: Some): Promise<number> {
    const pool = playedPool(POOL_SEED, ALL_DAYS);
    await opened();
    await database.secondCopy?.fill();
    const began = performance.now();
    for (let at = some.from; at < some.to; at += AT_ONCE) {
      await archive.keepMany(someOfMany(pool, { ...some, from: at, to: Math.min(some.to, at + AT_ONCE) }));
    }
    return (performance.now() - began) / 1000;
  },
  /** Begins to practise and goes on until the page is gone; what the second copy lacks is copied meanwhile. */
  async practise(seed: number, startsEpochMs: number): Promise<void> {
    await opened();
    database.secondCopy?.fill().catch(tellTrouble);
    const pool = playedPool(POOL_SEED, FEW_DAYS);
    const left = await database.runningTakes.toCollection().primaryKeys();
    const hour = new PracticeHour({ seed, startsEpochMs, history, runningTakes, pool, left });
    hour.goOn().catch(tellTrouble);
  },
  /** Begins to bring in an archive of a part of a large history; says so first, and once it is in. */
  async bringIn(some: Some): Promise<void> {
    const entries = [...someOfMany(playedPool(POOL_SEED, FEW_DAYS), some)];
    entries.sort((one, other) => (one.id < other.id ? -1 : 1));
    async function* each() {
      yield* entries;
    }
    const pieces: Uint8Array<ArrayBuffer>[] = [];
    for await (const piece of gzipped(entriesTexts(each()))) pieces.push(piece);
    const ids = entries.map(({ id }) => id);
    const into = { everything: new ArchiveStore(database), attempts: archive, stars: history };
    await opened();
    database.secondCopy?.fill().catch(tellTrouble);
    await say({ said: "bringing", ids });
    bringIn(into, new Blob(pieces), { theirs: false }, () => {})
      .then(() => say({ said: "brought", ids }))
      .catch(tellTrouble);
  },
  /** Puts what an earlier version kept into an empty database, its attempts many times. */
  putOld: (text: string, copies: number) => putOld(text, copies),
  /** Begins to open the database, which brings an older one up to this version. */
  beginToOpen(): void {
    opened()
      .then(() => database.secondCopy?.fill())
      .catch(tellTrouble);
  },
  async lookAtAll(): Promise<LookedAtAll> {
    const broughtBack = await opened();
    await database.secondCopy?.fill();
    return lookAtAll(database, upkeep, broughtBack);
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
