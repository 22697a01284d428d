import { Dexie, type Table } from "dexie";
import { rollUp } from "../../core/progress/counts/roll-ups.ts";
import type { SessionFact } from "../../core/progress/counts/session-fact.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import { readStored } from "./attempt-packing.ts";
import type { ReedpathDatabase } from "./database.ts";
import { type HistoryLine, lineOfFact } from "./history-entry.ts";
import { lineOfRow, rowOfLine } from "./line-rows.ts";
import { packGroupDay, packReedDay } from "./packed-rows.ts";
import type { LineRow } from "./rows.ts";
import { sameData } from "./same-data.ts";
import { tuneDaysOf } from "./tune-tries.ts";
import type { VerifyReport } from "./verify-report.ts";

/** Lines whose attempts are in memory at one time. */
const AT_ONCE = 200;

/** Days that any row stands under, in order. */
export async function daysToVerify(database: ReedpathDatabase): Promise<readonly PracticeDay[]> {
  const { days, groupDays, reedDays, itemDays, tuneDays, lines } = database;
  const found = new Set(await days.toCollection().primaryKeys());
  for (const table of [groupDays, reedDays, itemDays, tuneDays] as Table[]) {
    for (const day of await table.orderBy("day").uniqueKeys()) found.add(day as PracticeDay);
  }
  let next = await lines.orderBy("[day+atEpochMs]").first();
  while (next !== undefined) {
    found.add(next.day);
    next = await lines.where("[day+atEpochMs]").above([next.day, Dexie.maxKey]).first();
  }
  return [...found].sort();
}

/**
 * Compares all that stands under a day with what its attempts give. To be called within a transaction of the history.
 *
 * @returns other days that lines were moved to
 */
export async function verifyDay(
  database: ReedpathDatabase,
  day: PracticeDay,
  report: VerifyReport,
): Promise<readonly PracticeDay[]> {
  const { lines, days, groupDays, reedDays, itemDays, tuneDays } = database;
  const rows = await lines
    .where("[day+atEpochMs]")
    .between([day, Dexie.minKey], [day, Dexie.maxKey])
    .toArray();
  const found: Verifiable[] = [];
  for (let from = 0; from < rows.length; from += AT_ONCE) {
    found.push(...(await verifyLines(database, rows.slice(from, from + AT_ONCE), report)));
  }
  const facts = found.map(({ fact }) => fact);
  const made = rollUp(facts.filter((fact) => fact.day === day));
  const rowKey = (name: string): [string, PracticeDay] => [name, day];
  const ofGroup = ({ group }: { readonly group: string }) => group;
  await verifyRows(report, day, {
    what: "minutes and attempts",
    table: days,
    made: [...made.days.values()],
    nameOf: () => "",
    keyOf: () => day,
  });
  await verifyRows(report, day, {
    what: "sums of group",
    table: groupDays,
    made: [...made.groupDays.values()].map(packGroupDay),
    nameOf: ofGroup,
    keyOf: rowKey,
  });
  await verifyRows(report, day, {
    what: "reed actions of group",
    table: reedDays,
    made: [...made.reedDays.values()].map(packReedDay),
    nameOf: ofGroup,
    keyOf: rowKey,
  });
  await verifyRows(report, day, {
    what: "tries of",
    table: itemDays,
    made: [...made.itemDays.values()],
    nameOf: ({ item }) => item,
    keyOf: rowKey,
  });
  await verifyRows(report, day, {
    what: "attempts at tune",
    table: tuneDays,
    made: tuneDaysOf(found.map(({ line }) => line).filter((line) => line.day === day)),
    nameOf: ({ tuneId }) => tuneId,
    keyOf: rowKey,
  });
  return facts.map((fact) => fact.day).filter((other) => other !== day);
}

interface Verifiable {
  readonly fact: SessionFact;
  readonly line: HistoryLine;
}

/** @returns what the lines' attempts say */
async function verifyLines(
  { attempts, lines }: ReedpathDatabase,
  rows: readonly LineRow[],
  report: VerifyReport,
): Promise<readonly Verifiable[]> {
  const kept = await attempts.bulkGet(rows.map(({ id }) => id));
  const found: Verifiable[] = [];
  for (const [place, row] of rows.entries()) {
    const read = readStored(kept[place]);
    if (read === null) {
      report.tell(`${row.day}: the attempt at "${row.title}" cannot be read`);
      // Its bytes stay, for a program that can.
      if (report.repair) await lines.delete(row.id);
      continue;
    }
    const { entry, fact } = read;
    const line = { ...lineOfFact(entry, fact, row.takeBytes), starred: row.starred === 1 };
    found.push({ fact, line });
    if (sameData(line, lineOfRow(row))) continue;
    report.tell(`${row.day}: the line of "${fact.what.title}" differs from its attempt`);
    if (report.repair) await lines.put(rowOfLine(line, row.subject));
  }
  return found;
}

interface RowsOfDay<Row, Key> {
  readonly what: string;
  readonly table: Table<Row, Key>;
  readonly made: readonly Row[];
  /** Group or item; empty where there is one row a day. */
  readonly nameOf: (row: Row) => string;
  readonly keyOf: (name: string) => Key;
}

async function verifyRows<Row extends { readonly day: PracticeDay }, Key>(
  report: VerifyReport,
  day: PracticeDay,
  { what, table, made, nameOf, keyOf }: RowsOfDay<Row, Key>,
): Promise<void> {
  const rows = await table.where("day").equals(day).toArray();
  const kept = new Map(rows.map((row) => [nameOf(row), row]));
  for (const row of made) {
    const name = nameOf(row);
    const stands = kept.get(name);
    kept.delete(name);
    if (stands !== undefined && sameData(stands, row)) continue;
    report.tell(
      `${day}: ${`${what} ${name}`.trim()} ${stands === undefined ? "missing" : "differ from the attempts"}`,
    );
    if (report.repair) await table.put(row);
  }
  for (const name of kept.keys()) {
    report.tell(`${day}: ${`${what} ${name}`.trim()} without attempts`);
    if (report.repair) await table.delete(keyOf(name));
  }
}
