import { FACT_VERSION } from "../../core/progress/counts/session-fact.ts";
import { readStored } from "./attempt-packing.ts";
import type { ReedpathDatabase } from "./database.ts";
import { lineOfFact } from "./history-entry.ts";
import type { LongWork, Verified } from "./history-store.ts";
import { HistoryWriter } from "./history-writer.ts";
import { rowOfLine } from "./line-rows.ts";
import { verifyCopy } from "./second-copy/verify-copy.ts";
import { daysToVerify, verifyDay } from "./verify-days.ts";
import { VerifyReport } from "./verify-report.ts";
import { verifyItems, verifySubjects, verifyTakes } from "./verify-sums.ts";

const AT_ONCE = 200;
/** Of no subject: lines that are listed anew are filed afterwards. */
const NOWHERE = 0;

/**
 * Counts everything that follows from attempts anew and compares it with what is kept: first that attempts and lines are the same,
 * then day by day all that stands under the day, then what spans days, at last that the second copy has the same rows. Each day is one transaction, so that it is whole
 * whatever is played meanwhile, and no more than a day is ever in memory.
 */
export async function verifyHistory(
  database: ReedpathDatabase,
  { onProgress, signal, repair = false }: LongWork & { readonly repair?: boolean } = {},
): Promise<Verified> {
  const writer = new HistoryWriter(database);
  const report = new VerifyReport(repair);
  const unreadable = await verifyKeys(database, writer, report, signal);
  const days = [...(await daysToVerify(database))];
  for (let done = 0; done < days.length; done++) {
    const day = days[done];
    if (day === undefined) break;
    signal?.throwIfAborted();
    const moved = await writer.transaction(() => verifyDay(database, day, report));
    if (repair) days.push(...new Set(moved));
    onProgress?.((done + 1) / (days.length + 1));
  }
  for (const verify of [verifyItems, verifySubjects, verifyTakes]) {
    signal?.throwIfAborted();
    await writer.transaction(() => verify(database, report));
  }
  await verifyCopy(database, report, signal);
  if (repair) await database.meta.put({ id: "rules", factVersion: FACT_VERSION });
  onProgress?.(1);
  const { differences, different } = report;
  return { attempts: await database.lines.count(), unreadable, differences, different, repaired: repair };
}

/**
 * Every attempt has a line, and every line an attempt.
 *
 * @returns how many attempts cannot be read
 */
async function verifyKeys(
  { attempts, lines }: ReedpathDatabase,
  writer: HistoryWriter,
  report: VerifyReport,
  signal: AbortSignal | undefined,
): Promise<number> {
  const [kept, listed] = await writer.transaction(async () => [
    new Set(await attempts.toCollection().primaryKeys()),
    new Set(await lines.toCollection().primaryKeys()),
  ]);
  const empty = [...listed].filter((id) => !kept.has(id));
  for (const id of empty) report.tell(`the list has a line without an attempt (${id})`);
  if (report.repair && empty.length > 0) await writer.transaction(() => lines.bulkDelete(empty));
  const unlisted = [...kept].filter((id) => !listed.has(id));
  let unreadable = 0;
  for (let from = 0; from < unlisted.length; from += AT_ONCE) {
    signal?.throwIfAborted();
    await writer.transaction(async () => {
      for (const row of await attempts.bulkGet(unlisted.slice(from, from + AT_ONCE))) {
        if (row === undefined) continue;
        const read = readStored(row);
        if (read === null) {
          unreadable += 1;
          continue;
        }
        const { entry, fact } = read;
        report.tell(`${fact.day}: an attempt at "${fact.what.title}" is not in the list`);
        if (report.repair) await lines.put(rowOfLine(lineOfFact(entry, fact, null), NOWHERE));
      }
    });
  }
  return unreadable;
}
