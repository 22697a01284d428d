// @vitest-environment node
import { gunzipSync, gzipSync } from "node:zlib";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { StoredEntry } from "../../../renderer/store/history-entry.ts";
import type { AttemptKeeper } from "../../../renderer/store/history-store.ts";
import { FIRST_SETTINGS, readSettings } from "../../../renderer/store/settings-store.ts";
import { entryValue, measurementValue } from "../../support/archives.ts";
import { harp } from "../../support/harps.ts";
import { bytesOf, entry, furnish, Machine } from "./machines.ts";

const VALUE = entryValue() as unknown as Omit<StoredEntry, "id" | "take">;

describe("an archive of a whole history", () => {
  test("wiped and restored gives the same file, bit for bit, and a recount finds nothing", async () => {
    const machine = new Machine();
    await furnish(machine);
    const silent = { ...VALUE.attempt, take: { ...VALUE.attempt.take, peakDbfs: Number.NEGATIVE_INFINITY } };
    await machine.attempts.keepMany([
      entry("a"),
      entry("b", { starred: true }),
      entry("c", { take: null, demo: true }),
      entry("d", { attempt: silent as StoredEntry["attempt"], zone: "Asia/Kolkata" }),
    ]);
    const before = await machine.archive();
    const lines = await machine.history.list();
    const opened = await machine.history.open("d");
    await machine.wipe();
    expect(await machine.history.list()).toEqual([]);
    expect(await machine.differences()).toEqual([]);
    const empty = await machine.archive();
    expect((await bytesOf(empty)).equals(await bytesOf(before))).toBe(false);
    const look = await machine.look(before);
    expect(look).toMatchObject({
      kind: "archive",
      unreadable: 0,
      fresh: { attempt: 4, tune: 1, settings: 1 },
    });
    await machine.bringIn(before);
    expect((await bytesOf(await machine.archive())).equals(await bytesOf(before))).toBe(true);
    expect(await machine.history.list()).toEqual(lines);
    expect(await machine.history.open("d")).toEqual(opened);
    expect(await machine.differences()).toEqual([]);
  });

  test("without takes leaves them out, and nothing else", async () => {
    const machine = new Machine();
    await machine.attempts.keepMany([entry("a"), entry("b")]);
    const texts = (file: Buffer) => gunzipSync(file).toString().split("\n");
    const whole = texts(await bytesOf(await machine.archive()));
    const light = texts(await bytesOf(await machine.archive(false)));
    const isOfTakes = (line: string) => /"kind":"(take|end)"/.test(line);
    expect(light.filter((line) => !isOfTakes(line))).toEqual(whole.filter((line) => !isOfTakes(line)));
    expect([whole.length - light.length]).toEqual([2]); // two takes of one part each
  });

  test("of a machine that keeps nothing is an archive too", async () => {
    const machine = new Machine();
    expect(await machine.look(await machine.archive())).toMatchObject({
      kind: "archive",
      summary: { days: null },
    });
  });
});

describe("what is refused touches nothing", () => {
  const broken: readonly (readonly [string, (whole: Buffer) => Buffer, RegExp])[] = [
    [
      "of a newer version",
      (whole) => changed(whole, '"version":2', '"version":3'),
      /^written by a newer version/,
    ],
    ["cut off", (whole) => whole.subarray(0, whole.length - 20), /^damaged or cut off/],
    [
      "with a bit turned",
      (whole) => whole.map((byte, n) => (n === 300 ? byte ^ 4 : byte)) as Buffer,
      /^damaged|not/,
    ],
    ["that is no archive", () => Buffer.from("words"), /does not begin as gzip/],
  ];
  test.each(broken)("a file %s", async (_, breakIt, words) => {
    const source = new Machine();
    await furnish(source);
    await source.attempts.keepMany([entry("a"), entry("b")]);
    const file = new Blob([new Uint8Array(breakIt(await bytesOf(await source.archive())))]);
    const machine = new Machine();
    await machine.attempts.keepMany([entry("z")]);
    const before = await bytesOf(await machine.archive());
    expect(await machine.look(file)).toEqual({ kind: "refused", reason: expect.stringMatching(words) });
    expect((await bytesOf(await machine.archive())).equals(before)).toBe(true);
  });

  test("a record that cannot be read is told by line and field, and the others come in", async () => {
    const source = new Machine();
    await source.attempts.keepMany([entry("a"), entry("b"), entry("c")]);
    const text = gunzipSync(await bytesOf(await source.archive())).toString();
    const bad = text.replace(/(^.*"id":"b","kind":"attempt".*)"zone":"Europe\/Dublin"/m, '$1"zone":5');
    expect(bad).not.toBe(text);
    const file = new Blob([new Uint8Array(gzipSync(bad))]);
    const machine = new Machine();
    expect(await machine.look(file)).toMatchObject({
      kind: "archive",
      unreadable: 2,
      faults: [
        expect.stringMatching(/^line 4, value\.zone: /),
        "line 5, a take whose attempt cannot be read",
      ],
    });
    expect(await machine.bringIn(file)).toMatchObject({ attempt: 2 });
    expect((await machine.history.list()).map(({ id }) => id)).toEqual(["c", "a"]);
    expect(await machine.differences()).toEqual([]);
  });
});

const changed = (packed: Buffer, from: string, to: string) =>
  gzipSync(gunzipSync(packed).toString().replace(from, to));

describe("archives of two machines", () => {
  test("keep the player's own choices, unless the archive's are asked for", async () => {
    const [here, there] = [new Machine(), new Machine()];
    await furnish(here, "mine");
    await furnish(there, "theirs");
    await there.database.settings.put({ id: "settings", value: { ...FIRST_SETTINGS, a4Hz: 444 } });
    await there.database.tuneStudies.put({ id: "tune-1", danceBpm: 120 });
    await there.database.harps.put({ id: "harp-2", harp: harp("D"), note: "" });
    const file = await there.archive();
    expect(await here.bringIn(file)).toMatchObject({ harp: 1, settings: 0, study: 0, tune: 0 });
    const a4 = async () => readSettings((await here.database.settings.get("settings"))?.value).a4Hz;
    const tempo = async () => (await here.database.tuneStudies.get("tune-1"))?.danceBpm;
    expect([await a4(), await tempo()]).toEqual([443, 112]);
    expect((await here.database.harps.get("harp-1"))?.note).toBe("mine");
    expect(await here.bringIn(file, { theirs: true })).toMatchObject({ harp: 0, settings: 1, study: 1 });
    expect([await a4(), await tempo()]).toEqual([444, 120]);
  });

  test("keep the later of two states of a measurement of reeds, and each measurement once", async () => {
    const [here, there] = [new Machine(), new Machine()];
    const state = (id: string, changedAtEpochMs: number) => ({
      ...measurementValue({ changedAtEpochMs }),
      id,
    });
    await here.database.measurements.bulkPut([state("one", 10), state("two", 10)]);
    await there.database.measurements.bulkPut([state("one", 11), state("two", 9), state("three", 5)]);
    expect(await here.bringIn(await there.archive())).toMatchObject({ "reed measurement": 2 });
    const kept = await here.database.measurements.toArray();
    expect(kept.map(({ id, changedAtEpochMs }) => [id, changedAtEpochMs])).toEqual([
      ["one", 11],
      ["three", 5],
      ["two", 10],
    ]);
    await there.bringIn(await here.archive());
    expect((await bytesOf(await there.archive())).equals(await bytesOf(await here.archive()))).toBe(true);
  });

  test("keep the later of two wishes, a star of either, and attempts that are there as they are", async () => {
    const [here, there] = [new Machine(), new Machine()];
    await here.database.wishes.bulkPut([
      { item: "one", kind: "suspended", wishedAtEpochMs: 10 },
      { item: "two", kind: "suspended", wishedAtEpochMs: 10 },
    ]);
    await there.database.wishes.bulkPut([
      { item: "one", kind: "taken back", wishedAtEpochMs: 11 },
      { item: "two", kind: "taken back", wishedAtEpochMs: 9 },
    ]);
    await here.attempts.keepMany([entry("a", { starred: true }), entry("b")]);
    await there.attempts.keepMany([entry("a"), entry("b", { starred: true })]);
    expect(await here.bringIn(await there.archive())).toMatchObject({ attempt: 0, wish: 1 });
    expect((await here.database.wishes.toArray()).map(({ item, kind }) => [item, kind])).toEqual([
      ["one", "taken back"],
      ["two", "suspended"],
    ]);
    expect((await here.history.list()).map(({ id, starred }) => [id, starred])).toEqual([
      ["b", true],
      ["a", true],
    ]);
  });

  /** Which attempts a machine has, and which of them are starred. */
  const machines = fc.array(fc.subarray([..."abcdefgh"]), { minLength: 3, maxLength: 3 });
  const stars = fc.array(fc.subarray([..."abcdefgh"]), { minLength: 3, maxLength: 3 });

  async function machineWith(names: readonly string[], starred: readonly string[]): Promise<Machine> {
    const machine = new Machine();
    const isStarred = (name: string) => starred.includes(name);
    await machine.attempts.keepMany(
      names.map((name) => entry(name, isStarred(name) ? { starred: true } : {})),
    );
    return machine;
  }

  async function merged(...files: readonly Blob[]): Promise<Machine> {
    const machine = new Machine();
    for (const file of files) await machine.bringIn(file);
    return machine;
  }

  test("merge to the same whatever the order, however often, and every attempt once", async () => {
    await fc.assert(
      fc.asyncProperty(machines, stars, async (names, starred) => {
        const archives = await Promise.all(
          names.map(async (some, n) => (await machineWith(some, starred[n] ?? [])).archive()),
        );
        const [a, b, c] = archives as [Blob, Blob, Blob];
        const all = await merged(a, b, c);
        const whole = await bytesOf(await all.archive());
        // Every one once.
        expect((await all.history.list()).map(({ id }) => id).sort()).toEqual(
          [...new Set(names.flat())].sort(),
        );
        // Idempotent, commutative, associative.
        await all.bringIn(b);
        expect((await bytesOf(await all.archive())).equals(whole)).toBe(true);
        const backwards = await merged(c, b, a);
        expect((await bytesOf(await backwards.archive())).equals(whole)).toBe(true);
        const nested = await merged(a, await (await merged(b, c)).archive());
        expect((await bytesOf(await nested.archive())).equals(whole)).toBe(true);
        for (const machine of [all, backwards, nested]) expect(await machine.differences()).toEqual([]);
      }),
      { numRuns: 25 },
    );
  });

  test("bring back what was deleted here meanwhile, and say that it is new here", async () => {
    const machine = await machineWith([..."abc"], []);
    const file = await machine.archive();
    await machine.history.remove(["b"]);
    expect(await machine.look(file)).toMatchObject({ fresh: { attempt: 1 } });
    expect(await machine.bringIn(file)).toMatchObject({ attempt: 1 });
    expect((await bytesOf(await machine.archive())).equals(await bytesOf(file))).toBe(true);
    expect(await machine.differences()).toEqual([]);
  });

  test("go on where it was broken off, with whole attempts only", async () => {
    const source = await machineWith([..."abcdefgh"], []);
    const file = await source.archive();
    const machine = new Machine();
    let kept = 0;
    const keeper: AttemptKeeper = {
      add: async (entries) => {
        // As a window that is closed in the middle.
        kept += await machine.attempts.keepMany(entries.slice(0, 3));
        throw new Error("closed");
      },
      finish: async () => kept,
    };
    const broken = { keeper: () => keeper };
    const { bringIn } = await import("../../../renderer/archive/bring-in.ts");
    const into = { everything: machine.everything, attempts: broken, stars: machine.history };
    await expect(bringIn(into, file, { theirs: false }, () => {})).rejects.toThrow("closed");
    expect(kept).toBe(3);
    expect(await machine.differences()).toEqual([]);
    expect(await machine.bringIn(file)).toMatchObject({ attempt: 5 });
    expect((await bytesOf(await machine.archive())).equals(await bytesOf(file))).toBe(true);
  });
});
