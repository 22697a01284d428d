import { IDBFactory, IDBKeyRange } from "fake-indexeddb";
import fc from "fast-check";
import { expect, test } from "vitest";
import { type ItemDay, rollUp } from "../../core/progress/counts/roll-ups.ts";
import { factOf } from "../../core/progress/counts/session-fact.ts";
import { tuneTry } from "../../core/progress/repertoire/tune-try.ts";
import { itemRowOf } from "../../core/progress/revisit/revisit.ts";
import { ReedpathDatabase } from "../../renderer/store/database.ts";
import { DexieHistoryArchive } from "../../renderer/store/dexie-history-archive.ts";
import { DexieHistoryStore } from "../../renderer/store/dexie-history-store.ts";
import { DexieHistoryUpkeep } from "../../renderer/store/dexie-history-upkeep.ts";
import { DexieProgressStore } from "../../renderer/store/dexie-progress-store.ts";
import { lineOf, type NewEntry } from "../../renderer/store/history-entry.ts";
import type { Removed } from "../../renderer/store/history-store.ts";
import { newestFirst } from "../../renderer/store/line-order.ts";
import { unpackTake } from "../../renderer/store/take-packing.ts";
import { playedEntries } from "./played-entries.ts";
import { countingIds } from "./store-entries.ts";

const PLAYED = playedEntries();
/** 2026-10-24 at noon, UTC: clocks are put back in the night after in Dublin. */
const NOON_MS = 1_792_843_200_000;

/** What a player may do, in any order; clocks and zones of the attempts are anything. */
type Step =
  | {
      readonly kind: "save";
      readonly what: number;
      readonly hours: number;
      readonly zone: string;
      readonly demo: boolean;
    }
  | { readonly kind: "remove"; readonly which: readonly number[] }
  | { readonly kind: "undo" }
  | { readonly kind: "star"; readonly which: number; readonly on: boolean }
  | { readonly kind: "mark again"; readonly which: number; readonly what: number };

const number = fc.nat(11);
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.record({
      kind: fc.constant("save" as const),
      what: fc.nat(PLAYED.length - 1),
      hours: fc.integer({ min: -60, max: 60 }),
      zone: fc.constantFrom("Europe/Dublin", "Pacific/Auckland", "nowhere"),
      demo: fc.boolean(),
    }),
  },
  {
    weight: 3,
    arbitrary: fc.record({ kind: fc.constant("remove" as const), which: fc.array(number, { maxLength: 4 }) }),
  },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant("undo" as const) }) },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant("star" as const), which: number, on: fc.boolean() }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant("mark again" as const),
      which: number,
      what: fc.nat(PLAYED.length - 1),
    }),
  },
);

test("whatever is saved, deleted, brought back, starred and marked again, everything kept is what a full recount gives", async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 3, maxLength: 14 }), async (steps) => {
      const database = new ReedpathDatabase({ indexedDB: new IDBFactory(), IDBKeyRange });
      const history = new DexieHistoryStore(database, countingIds());
      const deleted: Removed[] = [];
      for (const one of steps) await take(one, history, deleted);
      await compareWithRecount(database);
      const { differences } = await new DexieHistoryUpkeep(database).verify();
      expect(differences).toEqual([]);
      database.close();
    }),
    { numRuns: 40 },
  );
}, 120_000);

async function take(one: Step, history: DexieHistoryStore, deleted: Removed[]): Promise<void> {
  const ids = (await history.list()).map(({ id }) => id).sort();
  const idOf = (which: number) => ids[which % Math.max(1, ids.length)] ?? "none";
  switch (one.kind) {
    case "save":
      await history.save(entryOf(one.what, NOON_MS + 3_600_000 * one.hours, one.zone, one.demo));
      return;
    case "remove":
      deleted.push(await history.remove(one.which.map(idOf)));
      return;
    case "undo": {
      const last = deleted.pop();
      if (last !== undefined) await history.restore(last);
      return;
    }
    case "star":
      await history.star(idOf(one.which), one.on);
      return;
    case "mark again": {
      const { exercise, attempt } = entryOf(one.what, 0, "UTC", false);
      await history.replaceMarks(idOf(one.which), exercise, attempt);
    }
  }
}

function entryOf(what: number, atEpochMs: number, zone: string, demo: boolean): NewEntry {
  const played = PLAYED[what];
  if (played === undefined) throw new RangeError("no such attempt");
  const take = demo ? null : { samples: new Float32Array(what), sampleRateHz: 48_000 };
  return { ...played, atEpochMs, zone, source: "microphone", take, ...(demo ? { demo } : {}) };
}

/** Against core's own sums over all that is there, read whole. */
async function compareWithRecount(database: ReedpathDatabase): Promise<void> {
  const archive = new DexieHistoryArchive(database);
  const progress = new DexieProgressStore(database);
  const entries = await archive.read(await archive.ids());
  const made = rollUp(entries.map(factOf));
  const [from, to] = ["0000-01-01", "9999-12-31"] as unknown as Parameters<DexieProgressStore["days"]>;
  const sorted = <Row>(rows: Iterable<Row>) => [...rows].map((row) => JSON.stringify(row, inOrder)).sort();
  expect(sorted(await progress.days(from, to))).toEqual(sorted(made.days.values()));
  expect(sorted(await progress.groupDays(from, to))).toEqual(sorted(made.groupDays.values()));
  expect(sorted(await progress.reedDays(from, to))).toEqual(sorted(made.reedDays.values()));
  const itemDays = [...made.itemDays.values()];
  expect(sorted(await database.itemDays.toArray())).toEqual(sorted(itemDays));
  const items = [...new Set(itemDays.map(({ item }) => item))];
  const rows = items.map((item) => itemRowOf(itemDays.filter((day: ItemDay) => day.item === item)));
  expect(sorted(await progress.items())).toEqual(sorted(rows));
  const lines = await new DexieHistoryStore(database, countingIds()).list();
  // Instants may be the same: compared as a set of texts.
  const tries = lines.flatMap((line) => (line.tuneId === undefined ? [] : (tuneTry(line) ?? [])));
  const kept = await new DexieHistoryStore(database, countingIds()).triesAtAll();
  expect(sorted([...kept.values()].flat())).toEqual(sorted(tries));
  for (const own of kept.values()) {
    const times = own.map(({ atEpochMs }) => atEpochMs);
    expect(times).toEqual([...times].sort((a, b) => a - b));
  }
  const expected = entries.map((entry) => ({ ...lineOf(entry), takeBytes: null })).sort(newestFirst);
  expect(lines.map((line) => ({ ...line, takeBytes: null }))).toEqual(expected);
  const lengths = await Promise.all(
    entries.map(async ({ take: stored }) => stored && (await unpackTake(stored)).samples.length),
  );
  expect(entries.map(({ demo }, place) => (demo ? null : lengths[place]))).toEqual(lengths);
}

/** Parts in the order of their names: equal data are equal texts. */
const inOrder = (_: string, value: unknown): unknown =>
  typeof value === "object" && value !== null && !Array.isArray(value)
    ? Object.fromEntries(Object.entries(value).sort(([one], [other]) => (one < other ? -1 : 1)))
    : value;
