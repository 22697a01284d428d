import { Dexie } from "dexie";
import { itemRowOf } from "../../core/progress/revisit/revisit.ts";
import type { ReedpathDatabase } from "./database.ts";
import { lineOfRow, rowOfLine, subjectKey, subjectOf } from "./line-rows.ts";
import type { LineRow, SubjectRow } from "./rows.ts";
import { sameData } from "./same-data.ts";
import { bytesOfTake } from "./take-packing.ts";
import type { VerifyReport } from "./verify-report.ts";

/** What spans days, each to be called within a transaction of the history. */

/** The row of every item is what its days give. */
export async function verifyItems(
  { items, itemDays }: ReedpathDatabase,
  report: VerifyReport,
): Promise<void> {
  const kept = new Map((await items.toArray()).map((row) => [row.item, row]));
  let next = await itemDays.toCollection().first();
  while (next !== undefined) {
    const { item } = next;
    const days = itemDays.where("[item+day]").between([item, Dexie.minKey], [item, Dexie.maxKey]);
    const row = itemRowOf(await days.toArray());
    if (!sameData(row, kept.get(item))) {
      report.tell(`what is known of ${item} ${kept.has(item) ? "differs from its days" : "is missing"}`);
      if (report.repair) await items.put(row);
    }
    kept.delete(item);
    next = await itemDays.where("[item+day]").above([item, Dexie.maxKey]).first();
  }
  for (const item of kept.keys()) {
    report.tell(`what is known of ${item} stands without days`);
    if (report.repair) await items.delete(item);
  }
}

/** Every line is counted by the subject it has. */
export async function verifySubjects(
  { lines, subjects }: ReedpathDatabase,
  report: VerifyReport,
): Promise<void> {
  const kept = await subjects.toArray();
  const byKey = new Map(kept.map((row) => [row.key, row]));
  const counts = new Map<string, number>();
  const astray: LineRow[] = [];
  await lines.each((row) => {
    const key = subjectKey(subjectOf(lineOfRow(row)));
    counts.set(key, (counts.get(key) ?? 0) + 1);
    if (byKey.get(key)?.id !== row.subject) astray.push(row);
  });
  for (const row of kept) {
    const attempts = counts.get(row.key) ?? 0;
    if (attempts === row.attempts) continue;
    report.tell(`of "${row.title}" on ${row.harpName} there are ${attempts} attempts, not ${row.attempts}`);
    if (!report.repair) continue;
    if (attempts === 0) await subjects.delete(row.id);
    else await subjects.put({ ...row, attempts });
  }
  for (const row of astray) report.tell(`${row.day}: "${row.title}" is filed under something else`);
  if (report.repair) await fileAnew({ lines, subjects }, astray, byKey, counts);
}

async function fileAnew(
  { lines, subjects }: Pick<ReedpathDatabase, "lines" | "subjects">,
  astray: readonly LineRow[],
  byKey: ReadonlyMap<string, SubjectRow>,
  counts: ReadonlyMap<string, number>,
): Promise<void> {
  const ids = new Map([...byKey].map(([key, { id }]) => [key, id]));
  for (const row of astray) {
    const of = subjectOf(lineOfRow(row));
    const key = subjectKey(of);
    const subject = ids.get(key) ?? (await subjects.add({ ...of, key, attempts: counts.get(key) ?? 0 }));
    ids.set(key, subject);
    await lines.put({ ...row, subject });
  }
}

/** Lines know which takes are kept, and takes are counted rightly. Only a take whose size is in doubt is read. */
export async function verifyTakes(database: ReedpathDatabase, report: VerifyReport): Promise<void> {
  const { lines, takes, meta, attempts } = database;
  const ids = await takes.toCollection().primaryKeys();
  const there = new Set(ids);
  const bytes: number[] = [];
  for (const [place, row] of (await lines.bulkGet(ids)).entries()) {
    const id = ids[place] ?? "";
    if (row === undefined) {
      // An attempt that cannot be read has no line, and keeps its take.
      if ((await attempts.where("id").equals(id).count()) > 0) continue;
      report.tell(`a take is kept without an attempt (${id})`);
      if (report.repair) await takes.delete(id);
    } else if (row.takeBytes === null) {
      report.tell(`${row.day}: the take of "${row.title}" is kept, and its line does not know it`);
      bytes.push(await knowTake(database, row, report));
    } else bytes.push(row.takeBytes);
  }
  const claimed = [
    ...(await lines.orderBy("dropAt").toArray()),
    ...(await lines.where("[starred+day+atEpochMs]").above([1]).toArray()),
  ];
  for (const row of claimed.filter(({ id, takeBytes }) => takeBytes !== null && !there.has(id))) {
    report.tell(`${row.day}: the take of "${row.title}" is gone, and its line does not know it`);
    if (report.repair) await lines.put(rowOfLine({ ...lineOfRow(row), takeBytes: null }, row.subject));
  }
  const sum = { id: "takes", count: bytes.length, bytes: bytes.reduce((all, one) => all + one, 0) } as const;
  const kept = (await meta.get("takes")) ?? { id: "takes", count: 0, bytes: 0 };
  if (sameData(kept, sum)) return;
  report.tell(`${sum.count} takes need ${sum.bytes} bytes, and other numbers were kept`);
  if (report.repair) await meta.put(sum);
}

/** @returns what the take needs */
async function knowTake(
  { lines, takes }: ReedpathDatabase,
  row: LineRow,
  report: VerifyReport,
): Promise<number> {
  const take = await takes.get(row.id);
  const takeBytes = bytesOfTake(take ?? null) ?? 0;
  if (report.repair) await lines.put(rowOfLine({ ...lineOfRow(row), takeBytes }, row.subject));
  return takeBytes;
}
