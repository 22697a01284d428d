import { Dexie, type Table } from "dexie";
import {
  type DayTotal,
  groupDayOf,
  itemDayOf,
  mergeDayTotals,
  mergeGroupDays,
  mergeItemDays,
  mergeReedDays,
  reedDayOf,
  rollUp,
} from "../../core/progress/counts/roll-ups.ts";
import type { SessionFact } from "../../core/progress/counts/session-fact.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import { itemRowOf } from "../../core/progress/revisit/revisit.ts";
import { readStored } from "./attempt-packing.ts";
import type { HistoryLine } from "./history-entry.ts";
import { lineOfRow } from "./line-rows.ts";
import { packGroupDay, packReedDay, unpackGroupDay, unpackReedDay } from "./packed-rows.ts";
import type { LineRow, TuneDayRow } from "./rows.ts";
import type { Tables } from "./tables.ts";
import { mergeTuneDays, tuneDaysOf } from "./tune-tries.ts";

/** Everything here is to be called within a transaction of all tables of the history. */

/** Adds attempts that are new to the rows of their days, groups and items. */
export async function addFacts(database: Tables, facts: readonly SessionFact[]): Promise<void> {
  const { days, groupDays, reedDays, itemDays } = database;
  const made = rollUp(facts);
  const same = <Row>(row: Row) => row;
  await mergeInto(days, made.days, ({ day }) => day, mergeDayTotals, same, same);
  await mergeInto(groupDays, made.groupDays, groupKey, mergeGroupDays, packGroupDay, unpackGroupDay);
  await mergeInto(reedDays, made.reedDays, groupKey, mergeReedDays, packReedDay, unpackReedDay);
  await mergeInto(itemDays, made.itemDays, itemKey, mergeItemDays, same, same);
}

/** Adds the attempts at tunes that are new to the days of their tunes. */
export async function addTries({ tuneDays }: Tables, lines: readonly HistoryLine[]): Promise<void> {
  const made = new Map(tuneDaysOf(lines).map((row) => [`${row.day} ${row.tuneId}`, row]));
  const same = <Row>(row: Row) => row;
  await mergeInto(tuneDays, made, tuneKey, mergeTuneDays, same, same);
}

const tuneKey = ({ tuneId, day }: TuneDayRow): [string, PracticeDay] => [tuneId, day];

const groupKey = ({ group, day }: Pick<SessionFact, "group" | "day">): [string, PracticeDay] => [group, day];

const itemKey = ({ item, day }: Pick<SessionFact, "item" | "day">): [string, PracticeDay] => [item, day];

async function mergeInto<Row, Stored, Key>(
  table: Table<Stored, Key>,
  made: ReadonlyMap<string, Row>,
  keyOf: (row: Row) => Key,
  merge: (one: Row, other: Row) => Row,
  pack: (row: Row) => Stored,
  unpack: (stored: Stored) => Row,
): Promise<void> {
  const rows = [...made.values()];
  const before = await table.bulkGet(rows.map(keyOf));
  await table.bulkPut(
    rows.map((row, place) => {
      const stored = before[place];
      return pack(stored === undefined ? row : merge(unpack(stored), row));
    }),
  );
}

/** Counts the rows that deleted attempts stood in anew, from those that are left. @param gone lines that are no longer there */
export async function recountWithout(database: Tables, gone: readonly LineRow[]): Promise<void> {
  const groupsOf = new Map<string, { item: string; day: PracticeDay; groups: Set<string> }>();
  for (const { item, day, group } of gone) {
    const key = JSON.stringify([item, day]);
    const touched = groupsOf.get(key) ?? { item, day, groups: new Set() };
    touched.groups.add(group);
    groupsOf.set(key, touched);
  }
  for (const { item, day, groups } of groupsOf.values()) {
    const facts = await factsOf(database, item, day);
    await recountItemDay(database, item, day, facts);
    for (const group of groups) {
      await recountGroupDay(
        database,
        group,
        day,
        facts.filter((fact) => fact.group === group),
      );
    }
  }
  for (const day of new Set(gone.map((line) => line.day))) {
    const tunes = gone.flatMap((line) => (line.day === day ? (line.tuneId ?? []) : []));
    await recountDay(database, day, new Set(tunes));
  }
}

async function factsOf(
  { lines, attempts }: Tables,
  item: string,
  day: PracticeDay,
): Promise<readonly SessionFact[]> {
  const ids = await lines.where("[item+day]").equals([item, day]).primaryKeys();
  const rows = await attempts.bulkGet(ids);
  return rows.flatMap((row) => readStored(row)?.fact ?? []);
}

async function recountItemDay(
  { itemDays }: Tables,
  item: string,
  day: PracticeDay,
  facts: readonly SessionFact[],
): Promise<void> {
  if (facts.length === 0) await itemDays.delete([item, day]);
  else await itemDays.put(itemDayOf(facts));
}

async function recountGroupDay(
  { groupDays, reedDays }: Tables,
  group: string,
  day: PracticeDay,
  facts: readonly SessionFact[],
): Promise<void> {
  if (facts.length === 0) {
    await groupDays.delete([group, day]);
    await reedDays.delete([group, day]);
  } else {
    await groupDays.put(packGroupDay(groupDayOf(facts)));
    await reedDays.put(packReedDay(reedDayOf(facts)));
  }
}

async function recountDay(
  { days, lines, tuneDays }: Tables,
  day: PracticeDay,
  tunes: ReadonlySet<string>,
): Promise<void> {
  const rows = await lines
    .where("[day+atEpochMs]")
    .between([day, Dexie.minKey], [day, Dexie.maxKey])
    .toArray();
  const [first, ...rest] = rows.map(totalOfLine);
  if (first === undefined) await days.delete(day);
  else await days.put(rest.reduce(mergeDayTotals, first));
  const left = rows.filter(({ tuneId }) => tuneId !== undefined && tunes.has(tuneId));
  await tuneDays.bulkDelete([...tunes].map((tuneId) => [tuneId, day]));
  await tuneDays.bulkPut([...tuneDaysOf(left.map(lineOfRow))]);
}

const totalOfLine = ({ day, durationSeconds, demo }: LineRow): DayTotal => ({
  day,
  attempts: 1,
  practisedMs: Math.round(1000 * durationSeconds),
  demoAttempts: demo ?? 0,
});

/** Makes the rows of items anew from their days. */
export async function remakeItems(database: Tables, items: ReadonlySet<string>): Promise<void> {
  for (const item of items) {
    const days = await database.itemDays
      .where("[item+day]")
      .between([item, Dexie.minKey], [item, Dexie.maxKey])
      .toArray();
    if (days.length === 0) await database.items.delete(item);
    else await database.items.put(itemRowOf(days));
  }
}
