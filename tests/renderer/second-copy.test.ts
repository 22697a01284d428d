import { createHash } from "node:crypto";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { dbfs } from "../../core/units.ts";
import { DATABASE_NAME, ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieRunningTakes } from "../../renderer/store/dexie-running-takes.ts";
import { DexieTuneStore } from "../../renderer/store/dexie-tune-store.ts";
import type { Removed } from "../../renderer/store/history-store.ts";
import { attemptsToBringBack, bringBack } from "../../renderer/store/second-copy/bring-back.ts";
import { COPIED_TABLES } from "../../renderer/store/second-copy/copied-tables.ts";
import type { CopyPlace } from "../../renderer/store/second-copy/copy-place.ts";
import { openWell } from "../../renderer/store/second-copy/open-well.ts";
import { DexieSettingsStore, FIRST_SETTINGS } from "../../renderer/store/settings-store.ts";
import { packSamples } from "../../renderer/store/take-packing.ts";
import { tuneValue } from "../support/archives.ts";
import { copyDifferences } from "../support/copy-differences.ts";
import { exerciseOf } from "../support/drills.ts";
import { EARLIER_VERSIONS, keptByVersion } from "../support/kept-database.ts";
import { putBack } from "../support/kept-rows.ts";
import { bytesOf, entry, furnish, Machine } from "./archive/machines.ts";
import { ownLocks } from "./own-locks.ts";
import { playedEntries } from "./played-entries.ts";
import { countingIds, newEntry } from "./store-entries.ts";

/** A browser with two engines: either can lose its database, and the second can be out of reach. */
class Disk {
  first = new IDBFactory();
  second = new IDBFactory();
  reachable = true;
  /** Whether no other window is open. */
  isAlone = true;
  private turn: Promise<unknown> = Promise.resolve();
  private readonly newId = countingIds();

  private readonly copyPlace: CopyPlace = {
    open: async () => {
      if (!this.reachable) throw new DOMException("out of reach", "UnknownError");
      return { indexedDB: this.second, IDBKeyRange };
    },
    longestWaitMs: 60_000,
    isAlone: async () => this.isAlone,
    inTurn: (work) => {
      const mine = this.turn.then(work);
      this.turn = mine.catch(() => {});
      return mine;
    },
  };

  get engine() {
    return { indexedDB: this.first, IDBKeyRange, copyPlace: this.copyPlace };
  }

  /** The program opened on it, as its window opens it. @returns with what was brought back */
  async opened(): Promise<Machine & { readonly back: number }> {
    const machine = new Machine(this.engine, this.newId);
    await machine.database.open();
    let back = 0;
    await openWell(machine.database, async () => {
      back = await bringBack(machine.database);
    });
    await machine.database.secondCopy?.fill();
    return Object.assign(machine, { back });
  }
}

/** Of every bit of an archive of everything. */
const archiveOf = async (machine: Machine) =>
  createHash("sha256")
    .update(await bytesOf(await machine.archive()))
    .digest("hex");

const head = {
  atEpochMs: 1_790_000_000_000,
  zone: "Europe/Dublin",
  exercise: exerciseOf(),
  way: "in time" as const,
  latencyMs: 12,
  sampleRateHz: 8000,
  beatZeroSeconds: 0.5,
};
const sound = (length: number) => Float32Array.from({ length }, (_, i) => 0.25 * Math.sin(i));

describe("the second copy", () => {
  test("has every table that does not follow from others", () => {
    const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
    const copied = new Set<string>(COPIED_TABLES.map(({ from }) => from));
    const others = database.tables.map(({ name }) => name).filter((name) => !copied.has(name));
    const counted = ["subjects", "days", "groupDays", "reedDays", "itemDays", "tuneDays", "items"];
    const ofTheCopy = ["uncopied", "engine"];
    expect(others.sort()).toEqual([...counted, ...ofTheCopy].sort());
  });

  test("gives a history back that was thrown away: the same archive bit for bit, the same list, sums a recount agrees with", async () => {
    const disk = new Disk();
    const machine = await disk.opened();
    await furnish(machine);
    const silent = {
      ...entry("d").attempt,
      take: { ...entry("d").attempt.take, peakDbfs: dbfs(Number.NEGATIVE_INFINITY) },
    };
    await machine.attempts.keepMany([
      entry("a", { take: packSamples({ samples: sound(90), sampleRateHz: 48_000 }) }),
      entry("b", { take: packSamples({ samples: sound(70), sampleRateHz: 44_100 }), starred: true }),
      entry("c", { take: null, demo: true }),
      entry("d", { attempt: silent, zone: "Asia/Kolkata", take: null }),
    ]);
    for (const played of playedEntries())
      await machine.history.save({ ...newEntry(), exercise: played.exercise, attempt: played.attempt });
    const before = await archiveOf(machine);
    const lines = (await machine.history.list()).map((line) => ({ ...line, takeBytes: null }));
    machine.database.close();

    disk.first = new IDBFactory();
    const again = await disk.opened();
    expect(again.back).toBe(4 + playedEntries().length);
    expect(await archiveOf(again)).toBe(before);
    expect((await again.history.list()).map((line) => ({ ...line, takeBytes: null }))).toEqual(lines);
    expect(await again.differences()).toEqual([]);
    expect(await copyDifferences(again.database)).toEqual([]);
    // Once is enough.
    expect(await attemptsToBringBack(again.database)).toBe(0);
    expect(await bringBack(again.database)).toBe(0);
  });

  test("gives a take back that was being recorded", async () => {
    const disk = new Disk();
    const machine = await disk.opened();
    const takes = new DexieRunningTakes(machine.database, ownLocks(), () => "cut off");
    const running = takes.begin();
    const samples = sound(40_000);
    await running.add(head, samples.slice(0, 25_000));
    await running.add(head, samples.slice(25_000));
    machine.database.close();
    disk.first = new IDBFactory();
    const again = await disk.opened();
    const left = new DexieRunningTakes(again.database, ownLocks(), () => "");
    expect(await left.left(head.atEpochMs)).toHaveLength(1);
    const taken = await left.takeOver("cut off");
    expect(taken?.head).toEqual(head);
    expect(taken?.take.samples).toEqual(samples);
    await taken?.discard();
    expect(await copyDifferences(again.database)).toEqual([]);
  });

  test("has what was kept as soon as it is said to be kept", async () => {
    const disk = new Disk();
    const machine = await disk.opened();
    await machine.history.save(newEntry());
    await new DexieSettingsStore(machine.database).save({ ...FIRST_SETTINGS, a4Hz: 442 });
    await new DexieTuneStore(machine.database).keep([{ ...tuneValue(), id: "tune-1" }]);
    // The window dies here, and the database with it; nothing is waited for.
    disk.first = new IDBFactory();
    const again = await disk.opened();
    expect(again.back).toBe(1);
    expect((await new DexieSettingsStore(again.database).load()).a4Hz).toBe(442);
    expect(await new DexieTuneStore(again.database).list()).toHaveLength(1);
  });

  test("has nothing of what was deleted: attempts, takes, or everything", async () => {
    const disk = new Disk();
    const machine = await disk.opened();
    await machine.attempts.keepMany(["a", "b", "c", "d"].map((name) => entry(name)));
    await machine.history.remove(["a"]);
    await machine.history.dropTake("b");
    const copy = await machine.database.secondCopy?.open();
    expect(await copy?.table("attempts").toCollection().primaryKeys()).toEqual(["b", "c", "d"]);
    expect(await copy?.table("takes").toCollection().primaryKeys()).toEqual(["c", "d"]);
    await machine.upkeep.dropAllTakes();
    expect(await copy?.table("takes").count()).toBe(0);
    await furnish(machine);
    await machine.wipe();
    for (const { to } of COPIED_TABLES) expect([to, await copy?.table(to).count()]).toEqual([to, 0]);
    disk.first = new IDBFactory();
    const again = await disk.opened();
    expect(again.back).toBe(0);
    expect(await again.history.list()).toEqual([]);
  });

  test("out of reach keeps nothing from being kept, and follows once it is there again", async () => {
    const disk = new Disk();
    const machine = await disk.opened();
    machine.database.close();
    disk.reachable = false;
    const alone = new Machine(disk.engine, () => "alone");
    await alone.history.save(newEntry());
    await alone.attempts.keepMany([entry("a")]);
    await alone.history.remove(["a"]);
    expect(await alone.database.secondCopy?.standing()).toBe("behind");
    // The program ends; what the copy lacks is noted in the database.
    alone.database.close();
    disk.reachable = true;
    const later = await disk.opened();
    expect(await copyDifferences(later.database)).toEqual([]);
    expect(await later.database.secondCopy?.standing()).toBe("whole");
    expect(await later.database.uncopied.count()).toBe(0);
    disk.first = new IDBFactory();
    expect((await disk.opened()).back).toBe(1);
  });

  test("that never was to be had leaves no notes behind, and has everything once it is", async () => {
    const disk = new Disk();
    disk.reachable = false;
    const machine = new Machine(disk.engine, () => "kept");
    await machine.history.save(newEntry());
    await machine.attempts.keepMany([entry("a"), entry("b")]);
    await machine.database.copied();
    expect(await machine.database.uncopied.count()).toBe(0);
    machine.database.close();
    disk.reachable = true;
    const later = await disk.opened();
    expect(await copyDifferences(later.database)).toEqual([]);
    expect(await (await later.database.secondCopy?.open())?.table("attempts").count()).toBe(3);
  });

  test("that does not answer keeps nobody waiting for ever", async () => {
    const disk = new Disk();
    (await disk.opened()).database.close();
    const copyPlace = {
      ...disk.engine.copyPlace,
      longestWaitMs: 20,
      inTurn: () => new Promise<never>(() => {}),
    };
    const machine = new Machine({ ...disk.engine, copyPlace }, () => "kept");
    await machine.history.save(newEntry());
    machine.database.close();
    const later = await disk.opened();
    expect(await later.history.open("kept")).not.toBeNull();
    expect(await copyDifferences(later.database)).toEqual([]);
  });

  test("thrown away itself is made anew, and goes on where that was cut short", async () => {
    const disk = new Disk();
    const machine = await disk.opened();
    await furnish(machine);
    await machine.attempts.keepMany(["a", "b", "c"].map((name) => entry(name)));
    machine.database.close();
    disk.second = new IDBFactory();
    const again = new Machine(disk.engine, () => "played meanwhile");
    await again.database.open();
    const stop = new AbortController();
    const cut = again.database.secondCopy?.fill({
      signal: stop.signal,
      onProgress: (share) => share > 0.6 && stop.abort(),
    });
    await expect(cut).rejects.toMatchObject({ name: "AbortError" });
    expect(await again.database.secondCopy?.standing()).toBe("being made");
    await again.history.save(newEntry());
    await again.history.remove(["a"]);
    again.database.close();
    const last = await disk.opened();
    expect(await copyDifferences(last.database)).toEqual([]);
    expect(await last.database.secondCopy?.standing()).toBe("whole");
  });

  test("brings the rest back the next time where that was cut short, and leaves what was played meanwhile", async () => {
    const disk = new Disk();
    const machine = await disk.opened();
    // More than are read at once, and more than one transaction's worth.
    const many = Array.from({ length: 450 }, (_, n) => entry(`${1000 + n}`, { take: null }));
    await machine.attempts.keepMany(many);
    await new DexieSettingsStore(machine.database).save({ ...FIRST_SETTINGS, a4Hz: 442 });
    machine.database.close();
    disk.first = new IDBFactory();
    const cut = new Machine(disk.engine, () => "played meanwhile");
    await cut.database.open();
    const stop = new AbortController();
    const onProgress = (share: number) => share > 0.5 && stop.abort();
    const returning = bringBack(cut.database, { signal: stop.signal, onProgress });
    await expect(returning).rejects.toMatchObject({ name: "AbortError" });
    // What is not back yet is no difference, and nothing to put right.
    expect((await cut.upkeep.verify({ repair: true })).differences).toEqual([]);
    const [first] = await cut.history.list();
    await cut.history.save(newEntry());
    await cut.history.remove([first?.id ?? ""]);
    await new DexieSettingsStore(cut.database).save({ ...FIRST_SETTINGS, a4Hz: 438 });
    cut.database.close();
    const last = await disk.opened();
    expect(await last.history.count({})).toBe(450);
    expect(await last.history.open("played meanwhile")).not.toBeNull();
    expect(await last.history.open(first?.id ?? "")).toBeNull();
    expect((await new DexieSettingsStore(last.database).load()).a4Hz).toBe(438);
    expect(await last.differences()).toEqual([]);
    expect(await copyDifferences(last.database)).toEqual([]);
  });

  test("keeps an attempt that nobody can read, with its take, as it is", async () => {
    const disk = new Disk();
    const machine = await disk.opened();
    await machine.attempts.keepMany([entry("a")]);
    const take = { id: "later", ...packSamples({ sampleRateHz: 48_000, samples: sound(20) }) };
    await machine.database.attempts.put({ id: "later", packed: Uint8Array.of(7, 7, 7) });
    await machine.database.takes.put(take);
    await machine.database.copied();
    machine.database.close();
    disk.first = new IDBFactory();
    const again = await disk.opened();
    expect(await again.history.count({})).toBe(1);
    expect((await again.database.attempts.get("later"))?.packed).toEqual(Uint8Array.of(7, 7, 7));
    expect(await again.database.takes.get("later")).toEqual(take);
    expect(await again.upkeep.verify()).toMatchObject({ unreadable: 1, differences: [] });
  });

  test("is looked through with the history, and put right with it", async () => {
    const disk = new Disk();
    const machine = await disk.opened();
    await furnish(machine);
    await machine.attempts.keepMany([entry("a"), entry("b", { starred: true }), entry("c")]);
    await machine.database.copied();
    expect(await machine.differences()).toEqual([]);
    const copy = await machine.database.secondCopy?.open();
    await copy?.table("attempts").delete("a");
    await copy?.table("takes").put({ id: "nobody's", sampleRateHz: 48_000, samples: sound(5) });
    await copy?.table("stars").bulkPut([{ id: "a" }, { id: "c" }]);
    await copy?.table("harps").clear();
    const words = (what: string, count: number) =>
      `the second copy of ${what} lacks or has what it should not: ${count} in all`;
    const found = [words("your harps", 1), words("takes", 1), words("stars", 2), words("attempts", 1)];
    expect(await machine.differences()).toEqual(found);
    expect((await machine.upkeep.verify({ repair: true })).differences).toEqual(found);
    expect(await machine.differences()).toEqual([]);
    expect(await copyDifferences(machine.database)).toEqual([]);
  });

  test("of two windows that write at once is what both wrote", async () => {
    const disk = new Disk();
    const one = await disk.opened();
    const other = await disk.opened();
    await one.attempts.keepMany(["a", "b", "c"].map((name) => entry(name)));
    await Promise.all([
      one.history.star("a", true),
      other.history.star("a", false),
      other.history.remove(["b"]),
      one.history.star("b", true),
      one.history.save(newEntry()),
      other.history.save(newEntry()),
    ]);
    expect(await copyDifferences(one.database)).toEqual([]);
    expect(await other.database.uncopied.count()).toBe(0);
  });

  test.each(EARLIER_VERSIONS)(
    "of a database that the program of schema %i wrote gives all of it back",
    async (schema) => {
      const disk = new Disk();
      await putBack(disk.first, DATABASE_NAME, keptByVersion(schema));
      const machine = await disk.opened();
      expect(machine.back).toBe(0);
      expect(await copyDifferences(machine.database)).toEqual([]);
      await machine.upkeep.packTakes();
      expect(await copyDifferences(machine.database)).toEqual([]);
      const before = await archiveOf(machine);
      machine.database.close();
      disk.first = new IDBFactory();
      const again = await disk.opened();
      expect(again.back).toBe(keptByVersion(schema).tables.attempts?.rows.length);
      expect(await archiveOf(again)).toBe(before);
      expect(await again.differences()).toEqual([]);
      again.database.close();
    },
  );
});

const PLAYED = playedEntries();
const number = fc.nat(9);
const step = fc.oneof(
  fc.record({ kind: fc.constant("save" as const), what: fc.nat(PLAYED.length - 1) }),
  fc.record({ kind: fc.constant("remove" as const), which: fc.array(number, { maxLength: 3 }) }),
  fc.record({ kind: fc.constant("undo" as const) }),
  fc.record({ kind: fc.constant("star" as const), which: number, on: fc.boolean() }),
  fc.record({ kind: fc.constant("mark again" as const), which: number, what: fc.nat(PLAYED.length - 1) }),
  fc.record({ kind: fc.constant("drop the take" as const), which: number }),
  fc.record({ kind: fc.constant("record" as const), pieces: fc.nat(3), ends: fc.boolean() }),
  fc.record({
    kind: fc.constant("lose" as const),
    what: fc.constantFrom("first", "second", "reach" as const),
  }),
);
type Step = typeof step extends fc.Arbitrary<infer One> ? One : never;

test("whatever is kept and deleted, and whichever database is thrown away in between, nothing is missing and nothing deleted comes back", async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 4, maxLength: 16 }), async (steps) => {
      const disk = new Disk();
      let machine = await disk.opened();
      const expected = new Set<string>();
      const deleted: Removed[] = [];
      for (const one of steps) machine = await take(one, disk, machine, expected, deleted);
      disk.reachable = true;
      machine.database.close();
      machine = await disk.opened();
      expect(new Set(await machine.attempts.ids())).toEqual(expected);
      expect(await machine.differences()).toEqual([]);
      expect(await copyDifferences(machine.database)).toEqual([]);
      machine.database.close();
    }),
    { numRuns: 25 },
  );
}, 180_000);

async function take(
  one: Step,
  disk: Disk,
  machine: Awaited<ReturnType<Disk["opened"]>>,
  expected: Set<string>,
  deleted: Removed[],
) {
  const { history, database } = machine;
  const ids = [...expected].sort();
  const idOf = (which: number) => ids[which % Math.max(1, ids.length)] ?? "none";
  switch (one.kind) {
    case "save":
      expected.add(
        await history.save({
          ...newEntry(),
          ...PLAYED[one.what],
          take: { samples: sound(30), sampleRateHz: 8000 },
        }),
      );
      break;
    case "remove": {
      const gone = one.which.map(idOf);
      deleted.push(await history.remove(gone));
      for (const id of gone) expected.delete(id);
      break;
    }
    case "undo": {
      const last = deleted.pop();
      if (last === undefined) break;
      await history.restore(last);
      for (const { id } of last.entries) expected.add(id);
      break;
    }
    case "star":
      await history.star(idOf(one.which), one.on);
      break;
    case "mark again": {
      const played = PLAYED[one.what];
      if (played !== undefined) await history.replaceMarks(idOf(one.which), played.exercise, played.attempt);
      break;
    }
    case "drop the take":
      await history.dropTake(idOf(one.which));
      break;
    case "record": {
      const running = new DexieRunningTakes(database, ownLocks(), () => crypto.randomUUID()).begin();
      for (let n = 0; n < one.pieces; n++) await running.add(head, sound(20));
      if (one.ends) await running.discard();
      break;
    }
    case "lose": {
      if (one.what === "reach") {
        // Out of reach, the copy cannot follow: nothing may be thrown away as long as it is behind.
        disk.reachable = !disk.reachable;
        break;
      }
      if (!disk.reachable) break;
      machine.database.close();
      // What it lacks since it was out of reach is copied when the program is opened.
      (await disk.opened()).database.close();
      if (one.what === "first") disk.first = new IDBFactory();
      else disk.second = new IDBFactory();
      return disk.opened();
    }
  }
  return machine;
}
