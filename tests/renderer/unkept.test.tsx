import { cleanup, render, screen } from "@testing-library/react";
import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import { afterEach, describe, expect, test, vi } from "vitest";
import { readArchive } from "../../core/archive/read-archive.ts";
import { UnkeptAttempts, unkeptName } from "../../renderer/app/unkept.ts";
import { UnkeptNotice } from "../../renderer/app/unkept-notice.tsx";
import { bringIn } from "../../renderer/archive/bring-in.ts";
import { unpacked } from "../../renderer/archive/gzip.ts";
import { lookAtArchive } from "../../renderer/archive/look-at-archive.ts";
import { keepAttempt } from "../../renderer/practice/keep-attempt.ts";
import { ArchiveStore } from "../../renderer/store/archive-store.ts";
import { openAgain, ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryArchive } from "../../renderer/store/dexie-history-archive.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../renderer/store/dexie-history-upkeep.ts";
import { HistoryWitness } from "../../renderer/store/history-witness.ts";
import { NotKeptYet, StoreTrouble } from "../../renderer/store/store-trouble.ts";
import { packTakeHere } from "../../renderer/store/take-packing.ts";
import { countingIds, newEntry } from "./store-entries.ts";

afterEach(cleanup);

/** A history that can be filled up, and what holds attempts in front of it. */
function world() {
  const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
  const history = new DexieHistoryStore(database, countingIds());
  let trouble: StoreTrouble | null = new StoreTrouble(
    "full",
    "there is no room left on the disk for the history",
  );
  const save = history.save.bind(history);
  const tried: string[] = [];
  const unkept = new UnkeptAttempts({
    save: async (entry, how) => {
      tried.push(how?.id ?? "");
      if (trouble !== null) throw trouble;
      return save(entry, how);
    },
    newId: countingIds(),
    packTake: packTakeHere,
    reopen: () => openAgain(database),
    fileName: () => unkeptName(1_790_000_000_000, "Europe/Dublin"),
  });
  return {
    database,
    history,
    unkept,
    tried,
    fail: (next: StoreTrouble | null) => {
      trouble = next;
    },
  };
}

/** What a download held, instead of going to the disk. */
async function savedBy(save: () => Promise<void>): Promise<Blob> {
  const made = vi.spyOn(URL, "createObjectURL");
  try {
    await save();
    const [[blob]] = made.mock.calls as unknown as [[Blob]];
    return blob;
  } finally {
    made.mockRestore();
  }
}

describe("an attempt that cannot be kept", () => {
  test("stays in memory, is kept under one id once it can be, and whoever showed it hears of that", async () => {
    const { unkept, history, tried, fail } = world();
    const shown = keepAttempt({ ...history, save: unkept.save } as never, newEntry());
    expect(await shown.settled).toEqual({
      kind: "not kept",
      why: "there is no room left on the disk for the history",
    });
    expect(unkept.getState()).toMatchObject({ attempts: 1, withoutTake: 0, isTrying: false, savedAs: null });
    expect(await unkept.tryAgain()).toBe(false);
    expect(unkept.getState().attempts).toBe(1);
    fail(null);
    expect(await unkept.tryAgain()).toBe(true);
    expect(unkept.getState()).toMatchObject({ attempts: 0, trouble: null });
    const [line] = await history.list();
    expect(tried).toEqual([line?.id, line?.id, line?.id]);
    expect(await shown.afterAll).toEqual({ kind: "kept", id: line?.id });
    expect((await history.open(line?.id ?? ""))?.take?.samples).toEqual(newEntry().take?.samples);
  });

  test("is tried oldest first, and those that are kept are not tried again", async () => {
    const { unkept, history, fail } = world();
    for (let n = 0; n < 3; n++) {
      const saving = unkept.save(newEntry({ atEpochMs: 1_790_000_000_000 + n }));
      await expect(saving).rejects.toBeInstanceOf(NotKeptYet);
    }
    fail(null);
    expect(await unkept.tryAgain()).toBe(true);
    expect(await history.count({})).toBe(3);
    expect(await unkept.tryAgain()).toBe(true);
    expect(await history.count({})).toBe(3);
  });

  test("goes into a file that is an archive; brought in, before or after trying again, it is there once", async () => {
    const { unkept, database, history, fail } = world();
    await expect(unkept.save(newEntry())).rejects.toThrow();
    await expect(unkept.save(newEntry({ atEpochMs: 1_790_000_060_000 }))).rejects.toThrow();
    const file = await savedBy(unkept.saveToFile);
    expect(unkept.getState()).toMatchObject({ attempts: 2, fileTrouble: null });
    expect(unkept.getState().savedAs).toMatch(/^reedpath-not-kept-2026-09-21\./); // [calc] 1,790,000,000 s after 1970 in UTC
    const events = [];
    for await (const event of readArchive(unpacked(file))) events.push(event.kind);
    // [calc] two attempts with a take each, and that the file is whole.
    expect(events).toEqual(["record", "record", "record", "record", "end"]);
    const everything = new ArchiveStore(database);
    expect((await lookAtArchive(everything, file, () => {})).kind).toBe("archive");
    fail(null);
    expect(await unkept.tryAgain()).toBe(true);
    const into = { everything, attempts: new DexieHistoryArchive(database), stars: history };
    expect((await bringIn(into, file, { theirs: false }, () => {})).attempt).toBe(0);
    expect(await history.count({})).toBe(2);
    expect((await new DexieHistoryUpkeep(database).verify()).differences).toEqual([]);
  });

  test("lets go of the takes of the oldest where memory would run out, never of marks", async () => {
    const { unkept } = world();
    // [calc] ten minutes each at 48 kHz: three of them are the half hour that is held.
    const take = { samples: new Float32Array(10 * 60 * 48_000), sampleRateHz: 48_000 };
    for (let n = 0; n < 4; n++) await expect(unkept.save(newEntry({ take }))).rejects.toThrow();
    expect(unkept.getState()).toMatchObject({ attempts: 4, withoutTake: 1 });
  });

  test("what is no trouble of the store is not held here", async () => {
    const { unkept, fail } = world();
    fail(new TypeError("a broken promise of ours") as never);
    await expect(unkept.save(newEntry())).rejects.toThrow(/broken promise/);
    expect(unkept.getState().attempts).toBe(0);
  });
});

describe("the sentence about it", () => {
  const state = { attempts: 2, withoutTake: 0, isTrying: false, savedAs: null, fileTrouble: null };
  test.each([
    ["full", "there is no room left on the disk for the history", "make room on it and try again"],
    [
      "newer version",
      "a newer version of this program wrote the history",
      "open that version, or update this one",
    ],
    ["blocked", "another window of this program holds the history", "close that window and try again"],
    [
      "unavailable",
      "the history cannot be used here (reason)",
      "close every window of this program, open it again and try again",
    ],
  ] as const)("names what is wrong and what to do: %s", (kind, why, wayOut) => {
    const trouble = new StoreTrouble(kind, why);
    const nothing = () => {};
    render(
      <UnkeptNotice
        atStart={null}
        state={{ ...state, trouble }}
        onTryAgain={nothing}
        onSaveToFile={nothing}
      />,
    );
    expect(screen.getByRole("alert").textContent).toBe(
      `2 attempts are only in this window: ${why}; ${wayOut}, or save them to a file.`,
    );
  });
});

describe("a history the browser threw away", () => {
  function storage(start: Record<string, string> = {}) {
    const kept = new Map(Object.entries(start));
    return {
      getItem: (name: string) => kept.get(name) ?? null,
      setItem: (name: string, value: string) => void kept.set(name, value),
    };
  }

  test("is known by what stood beside it, until the player was told", () => {
    const beside = storage();
    expect(new HistoryWitness(beside).opened(true, 0)).toBe(0); // a new player
    new HistoryWitness(beside).sees(412);
    expect(new HistoryWitness(beside).opened(false, 0)).toBe(0);
    expect(new HistoryWitness(beside).opened(true, 0)).toBe(412);
    new HistoryWitness(beside).sees(3); // played on since
    expect(new HistoryWitness(beside).opened(false, 0)).toBe(412);
    new HistoryWitness(beside).told();
    expect(new HistoryWitness(beside).opened(false, 0)).toBe(0);
  });

  test("is spoken of as far as it did not come back", () => {
    const beside = storage();
    new HistoryWitness(beside).sees(412);
    expect(new HistoryWitness(beside).opened(true, 410)).toBe(2);
    new HistoryWitness(beside).told();
    new HistoryWitness(beside).sees(410);
    expect(new HistoryWitness(beside).opened(true, 410)).toBe(0);
    expect(new HistoryWitness(beside).opened(true, 411)).toBe(0); // kept after it was looked at last
  });

  test("is not spoken of where everything was deleted by the player, or nothing can be known", () => {
    const beside = storage();
    new HistoryWitness(beside).sees(10);
    new HistoryWitness(beside).sees(0);
    expect(new HistoryWitness(beside).opened(true, 0)).toBe(0);
    for (const damaged of ["", "{", "7", '{"attempts":"many"}', '{"attempts":-4,"lost":0.5}'])
      expect(new HistoryWitness(storage({ "reedpath history": damaged })).opened(true, 0)).toBe(0);
    expect(new HistoryWitness(null).opened(true, 0)).toBe(0);
  });
});
