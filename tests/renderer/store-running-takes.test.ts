import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { describe, expect, test } from "vitest";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../renderer/store/dexie-history-upkeep.ts";
import {
  DexieRunningTakes,
  KEPT_DAYS,
  MOST_LEFT,
  MOST_RUNNING_MINUTES,
} from "../../renderer/store/dexie-running-takes.ts";
import type { RunningHead } from "../../renderer/store/running-take.ts";
import { exerciseOf } from "../support/drills.ts";
import { ownLocks } from "./own-locks.ts";
import { countingIds, newEntry } from "./store-entries.ts";

const RATE_HZ = 8000;
const DAY_MS = 86_400_000;
const NOW_MS = 1_790_000_000_000;

const head = (changes: Partial<RunningHead> = {}): RunningHead => ({
  atEpochMs: NOW_MS,
  zone: "Europe/Dublin",
  exercise: exerciseOf(),
  way: "in time",
  latencyMs: 12,
  sampleRateHz: RATE_HZ,
  beatZeroSeconds: 0.5,
  ...changes,
});

/** Two seconds of something that sounds, or of nothing. */
const piece = (n: number, loudness = 0.25): Float32Array =>
  Float32Array.from({ length: 2 * RATE_HZ }, (_, i) => loudness * Math.sin((n + 1) * i));

/** One database, seen from as many windows as are opened. A window that dies lets go of its locks. */
function world() {
  const engine = { indexedDB: new IDBFactory(), IDBKeyRange };
  const held = new Set<string>();
  const ids = countingIds();
  return {
    window: () => {
      const database = new ReedpathDatabase(engine);
      const takes = new DexieRunningTakes(database, ownLocks(held), ids);
      return { database, takes, history: new DexieHistoryStore(database, ids) };
    },
    killed: () => held.clear(),
  };
}

const rowsOf = async ({ runningTakes, takePieces }: ReedpathDatabase) => [
  await runningTakes.count(),
  await takePieces.count(),
];

describe("a take while it is recorded", () => {
  test("is on the disk piece by piece, no other window is offered it, and after the end of its window it comes back to the bit", async () => {
    const { window, killed } = world();
    const first = window();
    const running = first.takes.begin();
    for (let n = 0; n < 3; n++) {
      await running.add(head(), piece(n));
      expect(await rowsOf(first.database)).toEqual([1, n + 1]);
    }
    const second = window();
    expect(await second.takes.left(NOW_MS)).toEqual([]);
    expect(await second.takes.takeOver(running.id)).toBeNull();
    killed();
    // [calc] three pieces of two seconds, less the half before beat 0.
    const offered = { id: running.id, atEpochMs: NOW_MS, title: exerciseOf().title, playedSeconds: 5.5 };
    expect(await second.takes.left(NOW_MS)).toEqual([offered]);
    const left = await second.takes.takeOver(running.id);
    expect(left?.head).toEqual(head());
    expect(left?.take.sampleRateHz).toBe(RATE_HZ);
    const all = [0, 1, 2].flatMap((n) => [...piece(n)]);
    expect(
      Buffer.from(left?.take.samples.buffer ?? new ArrayBuffer()).equals(
        Buffer.from(Float32Array.from(all).buffer),
      ),
    ).toBe(true);
    // In this window's hands it is nobody else's.
    expect(await window().takes.takeOver(running.id)).toBeNull();
  });

  test("goes in the very transaction that keeps its attempt, and stays where that fails", async () => {
    const { database, takes, history } = world().window();
    const running = takes.begin();
    await running.add(head(), piece(0));
    await running.end();
    let isFull = true;
    database.takes.hook("creating", () => {
      if (isFull) throw new DOMException("the disk is full", "QuotaExceededError");
    });
    await expect(history.save(newEntry(), { running: running.id })).rejects.toThrow(/no room left/);
    expect([await history.count({}), ...(await rowsOf(database))]).toEqual([0, 1, 1]);
    isFull = false;
    await history.save(newEntry(), { running: running.id });
    expect([await history.count({}), ...(await rowsOf(database))]).toEqual([1, 0, 0]);
    expect((await new DexieHistoryUpkeep(database).verify()).differences).toEqual([]);
  });

  test("leaves nothing where it is thrown away, however late its last piece comes", async () => {
    const { database, takes } = world().window();
    const running = takes.begin();
    void running.add(head(), piece(0));
    void running.add(head(), piece(1));
    await running.discard();
    await running.add(head(), piece(2));
    expect(await rowsOf(database)).toEqual([0, 0]);
  });

  test("goes on where its copy cannot be written, and what was written before stays", async () => {
    const { database, takes } = world().window();
    const running = takes.begin();
    await running.add(head(), piece(0));
    database.takePieces.hook("creating", () => {
      throw new DOMException("the disk is full", "QuotaExceededError");
    });
    await running.add(head(), piece(1));
    await running.add(head(), piece(2));
    expect(await rowsOf(database)).toEqual([1, 1]);
    expect((await database.runningTakes.get(running.id))?.samples).toBe(2 * RATE_HZ);
    await running.end();
  });

  test("is kept in its beginning where it lasts too long", async () => {
    const { database, takes } = world().window();
    const running = takes.begin();
    const long = new Float32Array(RATE_HZ * 60 * MOST_RUNNING_MINUTES + 1).fill(0.1);
    await running.add(head(), long);
    await running.add(head(), piece(0));
    expect(await rowsOf(database)).toEqual([1, 1]);
  });
});

describe("what is offered", () => {
  test("is nothing in which nothing sounded, nothing before the second note, and nothing older than five days", async () => {
    const { window, killed } = world();
    const { database, takes } = window();
    const add = async (changes: Partial<RunningHead>, loudness?: number) => {
      const running = takes.begin();
      await running.add(head(changes), piece(0, loudness));
      return running.id;
    };
    await add({}, 0);
    // [calc] the second note begins a beat, two thirds of a second, after beat 0; two seconds were recorded.
    await add({ beatZeroSeconds: 1.5 });
    await add({ atEpochMs: NOW_MS - KEPT_DAYS * DAY_MS - 1 });
    const worth = await add({ atEpochMs: NOW_MS - KEPT_DAYS * DAY_MS });
    // A clock that was set back makes nothing old.
    const ahead = await add({ atEpochMs: NOW_MS + 30 * DAY_MS });
    killed();
    expect((await takes.left(NOW_MS)).map(({ id }) => id)).toEqual([ahead, worth]);
    expect(await rowsOf(database)).toEqual([2, 2]);
  });

  test("is the newest three, and those of another window are not counted among them or forgotten", async () => {
    const { window, killed } = world();
    const { takes } = window();
    for (let n = 0; n < MOST_LEFT + 2; n++)
      await takes.begin().add(head({ atEpochMs: NOW_MS + n }), piece(n));
    killed();
    const elsewhere = window();
    await elsewhere.takes.begin().add(head({ atEpochMs: NOW_MS - 1 }), piece(9));
    const left = await takes.left(NOW_MS);
    // [calc] of five the last three, newest first.
    expect(left.map(({ atEpochMs }) => atEpochMs - NOW_MS)).toEqual([4, 3, 2]);
    expect(await rowsOf(elsewhere.database)).toEqual([MOST_LEFT + 1, MOST_LEFT + 1]);
  });
});
