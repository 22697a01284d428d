import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { describe, expect, test } from "vitest";
import type { SetList } from "../../core/progress/repertoire/repertoire-set-list.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieSetListStore } from "../../renderer/store/dexie-set-list-store.ts";
import { DexieTuneStore } from "../../renderer/store/dexie-tune-store.ts";
import type { HistoryStore } from "../../renderer/store/history-store.ts";
import { MemoryHistoryStore } from "../../renderer/store/memory-history-store.ts";
import { MemorySetListStore } from "../../renderer/store/memory-set-list-store.ts";
import { MemoryTuneStore } from "../../renderer/store/memory-tune-store.ts";
import type { SetListStore } from "../../renderer/store/set-list-store.ts";
import type { TuneStore } from "../../renderer/store/tune-store.ts";
import { harp } from "../support/harps.ts";
import { heardNote, listeningOf } from "../support/listenings.ts";
import { countingIds, newEntry } from "./store-entries.ts";

const newDatabase = () => new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });

interface Stores {
  readonly lists: SetListStore;
  readonly tunes: TuneStore;
  readonly history: HistoryStore;
}

const KINDS: readonly (readonly [string, () => Stores])[] = [
  [
    "in the database",
    () => {
      const database = newDatabase();
      return {
        lists: new DexieSetListStore(database),
        tunes: new DexieTuneStore(database),
        history: new DexieHistoryStore(database, countingIds()),
      };
    },
  ],
  [
    "in memory",
    () => ({
      lists: new MemorySetListStore(),
      tunes: new MemoryTuneStore(),
      history: new MemoryHistoryStore(countingIds()),
    }),
  ],
];

const list = (id: string, name: string): SetList => ({
  id,
  name,
  sets: [
    {
      id: "1",
      name: "Jigs",
      pauseSeconds: 0,
      breakSeconds: 180,
      tunes: [{ id: "1", tuneId: "t", title: "autumn", times: 3, bpm: 112, harp: harp("D") }],
    },
  ],
});

describe.each(KINDS)("set lists %s", (_, make) => {
  test("are listed by name, kept whole with their harps, and one changed takes the place of the first", async () => {
    const { lists } = make();
    await lists.keep(list("b", "Dance 10"));
    await lists.keep(list("a", "dance 9"));
    expect(await lists.all()).toEqual([list("a", "dance 9"), list("b", "Dance 10")]);
    await lists.keep(list("a", "Spring dance"));
    expect((await lists.all()).map(({ name }) => name)).toEqual(["Dance 10", "Spring dance"]);
  });

  test("one deleted is gone, and can be kept again", async () => {
    const { lists } = make();
    await lists.keep(list("a", "Autumn dance"));
    await lists.remove("a");
    expect(await lists.all()).toEqual([]);
    await lists.keep(list("a", "Autumn dance"));
    expect(await lists.all()).toHaveLength(1);
  });
});

describe.each(KINDS)("what the repertoire reads %s", (_, make) => {
  test("all studies at once, the player's own word among them; one kept before there was one reads as it is", async () => {
    const { tunes } = make();
    await tunes.keepStudy({ id: "a", danceBpm: 112 });
    await tunes.keepStudy({ id: "b", status: "resting" });
    expect([...(await tunes.studies())].sort((one, other) => (one.id < other.id ? -1 : 1))).toEqual([
      { id: "a", danceBpm: 112 },
      { id: "b", status: "resting" },
    ]);
  });

  test("attempts at tunes alone, not those at drills, nor those that broke off at their beginning", async () => {
    const { history } = make();
    const entry = newEntry();
    const parameters = { ...entry.exercise.parameters, tuneId: "t", rung: "whole tune 0-9 at 100 %" };
    const exercise = { ...entry.exercise, parameters };
    await history.save(entry);
    // A second of it: all that comes after is not measured.
    await history.save({ ...entry, exercise });
    const heard = listeningOf([heardNote(1, 62)], 60);
    await history.save({ ...entry, exercise, attempt: scoreTake(exercise, heard) });
    const tries = await history.triesAtAll();
    expect([...tries].map(([tuneId, own]) => [tuneId, own.map(({ rung }) => rung)])).toEqual([
      ["t", ["whole tune 0-9 at 100 %"]],
    ]);
    expect(await history.triesAt("t")).toEqual(tries.get("t"));
    expect(await history.triesAt("never played")).toEqual([]);
  });
});
