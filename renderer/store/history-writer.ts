import type { Table } from "dexie";
import { factOf, type SessionFact } from "../../core/progress/counts/session-fact.ts";
import { readAttempt } from "../../core/score/attempt-versions.ts";
import { packAttempt } from "./attempt-packing.ts";
import { addFacts, addTries, recountWithout, remakeItems } from "./derived-rows.ts";
import { type HistoryLine, lineOfFact, type StoredEntry, type StoredTake } from "./history-entry.ts";
import { lineOfRow, rowOfLine, subjectKey, subjectOf } from "./line-rows.ts";
import type { AttemptRow, LineRow } from "./rows.ts";
import { readSettings } from "./settings-store.ts";
import { StoreTrouble } from "./store-trouble.ts";
import type { Tables } from "./tables.ts";
import { bytesOfTake } from "./take-packing.ts";

/** An attempt with everything that is stored of it, worked out before the transaction. */
export interface Prepared {
  readonly line: HistoryLine;
  readonly fact: SessionFact;
  readonly attempt: AttemptRow;
  /** "as kept": take and star of the attempt whose place it takes stay. */
  readonly take: StoredTake | null | "as kept";
}

/** @throws StoreTrouble where a newer version marked it */
export function prepare(entry: Omit<StoredEntry, "take">, take: Prepared["take"]): Prepared {
  const read = readAttempt(entry.attempt);
  if (read.kind === "unreadable") throw new StoreTrouble("newer version", read.reason);
  const whole = { ...entry, attempt: read.attempt };
  const fact = factOf(whole);
  const bytes = take === "as kept" ? null : bytesOfTake(take);
  return { line: lineOfFact(whole, fact, bytes), fact, attempt: packAttempt(whole), take };
}

/**
 * Writes attempts and all that follows from them. Every verb but the first is to be called within its transaction, so that no
 * reader and no crash ever sees the one without the other.
 */
export class HistoryWriter {
  constructor(private readonly database: Tables) {}

  /** @param others tables that are written along */
  async transaction<T>(work: () => Promise<T>, others: readonly Table[] = []): Promise<T> {
    const tables = [...tablesOf(this.database), ...others];
    // Dexie follows what is awaited only in a function it can see to be async.
    const done = await this.database.transaction("rw", tables, async () => work());
    await this.database.copied();
    return done;
  }

  /** Puts attempts in, in place of those with the same ids, and drops the takes there is no room for then. */
  async put(prepared: readonly Prepared[]): Promise<void> {
    if (prepared.length === 0) return;
    const { lines, attempts, takes } = this.database;
    const before = await this.linesOf(prepared.map(({ line }) => line.id));
    const asKept = new Set(prepared.flatMap(({ take, line }) => (take === "as kept" ? [line.id] : [])));
    await this.takeOut(before, asKept);
    const stand = new Map(before.map((row) => [row.id, row]));
    const whole = prepared.map(({ line }) =>
      asKept.has(line.id) ? withTakeOf(line, stand.get(line.id)) : line,
    );
    const subjects = await this.countSubjects(whole, 1);
    await lines.bulkPut(whole.map((line) => rowOfLine(line, subjects.get(subjectKey(subjectOf(line))) ?? 0)));
    await attempts.bulkPut(prepared.map(({ attempt }) => attempt));
    await takes.bulkPut(
      prepared.flatMap(({ line: { id }, take }) =>
        take === "as kept" || take === null ? [] : [{ ...take, id }],
      ),
    );
    await this.countTakes(
      whole.filter(({ id }) => !asKept.has(id)),
      1,
    );
    await addFacts(
      this.database,
      prepared.map(({ fact }) => fact),
    );
    await addTries(this.database, whole);
    await remakeItems(this.database, new Set([...before, ...whole].map(({ item }) => item)));
    await this.fitTakes(new Set(prepared.map(({ line }) => line.id)));
  }

  /** Deletes attempts that are there with their takes. */
  async remove(ids: readonly string[]): Promise<number> {
    const gone = await this.linesOf(ids);
    await this.takeOut(gone, new Set());
    await remakeItems(this.database, new Set(gone.map(({ item }) => item)));
    return gone.length;
  }

  /** False if there is no such attempt. */
  async star(id: string, on: boolean): Promise<boolean> {
    const row = await this.database.lines.get(id);
    if (row === undefined) return false;
    await this.database.lines.put(rowOfLine({ ...lineOfRow(row), starred: on }, row.subject));
    return true;
  }

  /** Puts a take in place of the one an attempt has. */
  async replaceTake(id: string, take: StoredTake): Promise<void> {
    const row = await this.database.lines.get(id);
    if (row === undefined) return;
    const line = { ...lineOfRow(row), takeBytes: bytesOfTake(take) };
    await this.database.takes.put({ ...take, id });
    await this.database.lines.put(rowOfLine(line, row.subject));
    await this.countTakes([row], -1);
    await this.countTakes([line], 1);
  }

  /** Deletes takes and leaves the marks, whoever's they are. @returns how many there were */
  async dropTakes(ids: readonly string[]): Promise<number> {
    const rows = await this.linesOf(ids);
    const going = rows.filter(({ takeBytes }) => takeBytes !== null);
    await this.database.takes.bulkDelete([...ids]);
    await this.database.lines.bulkPut(going.map(({ dropAt: _, ...row }) => ({ ...row, takeBytes: null })));
    await this.countTakes(going, -1);
    return going.length;
  }

  /** Drops the oldest takes without a star until the rest fits. @param spared takes that stay. @returns how many went */
  async fitTakes(spared: ReadonlySet<string> = new Set()): Promise<number> {
    const { lines, takes, settings, meta } = this.database;
    const kept = await meta.get("takes");
    if (kept?.id !== "takes") return 0;
    const limit = 1e6 * readSettings((await settings.get("settings"))?.value).takesLimitMb;
    let { bytes } = kept;
    let dropped = 0;
    while (bytes > limit) {
      const oldest = await lines
        .orderBy("dropAt")
        .limit(spared.size + 50)
        .toArray();
      const going: LineRow[] = [];
      for (const row of oldest) {
        if (bytes <= limit || spared.has(row.id)) continue;
        bytes -= row.takeBytes ?? 0;
        going.push(row);
      }
      if (going.length === 0) break;
      await takes.bulkDelete(going.map(({ id }) => id));
      await lines.bulkPut(going.map(({ dropAt: _, ...row }) => ({ ...row, takeBytes: null })));
      dropped += going.length;
    }
    if (dropped > 0) await meta.put({ id: "takes", bytes, count: kept.count - dropped });
    return dropped;
  }

  private async linesOf(ids: readonly string[]): Promise<readonly LineRow[]> {
    const rows = await this.database.lines.bulkGet([...new Set(ids)]);
    return rows.filter((row) => row !== undefined);
  }

  /** All of attempts but the rows of their items. */
  private async takeOut(gone: readonly LineRow[], keepTakes: ReadonlySet<string>): Promise<void> {
    if (gone.length === 0) return;
    const { lines, attempts, takes } = this.database;
    const ids = gone.map(({ id }) => id);
    const withTakes = gone.filter(({ id }) => !keepTakes.has(id));
    await lines.bulkDelete(ids);
    await attempts.bulkDelete(ids);
    await takes.bulkDelete(withTakes.map(({ id }) => id));
    await this.countSubjects(gone.map(lineOfRow), -1);
    await this.countTakes(withTakes, -1);
    await recountWithout(this.database, gone);
  }

  /** @returns the ids of subjects by their keys */
  private async countSubjects(
    of: readonly HistoryLine[],
    sign: 1 | -1,
  ): Promise<ReadonlyMap<string, number>> {
    const { subjects } = this.database;
    const counted = new Map<string, { readonly line: HistoryLine; count: number }>();
    for (const line of of) {
      const key = subjectKey(subjectOf(line));
      const same = counted.get(key) ?? { line, count: 0 };
      same.count += sign;
      counted.set(key, same);
    }
    const there = await subjects
      .where("key")
      .anyOf([...counted.keys()])
      .toArray();
    const ids = new Map(there.map(({ key, id }) => [key, id]));
    for (const [key, { line, count }] of counted) {
      const row = there.find((one) => one.key === key);
      const attempts = (row?.attempts ?? 0) + count;
      if (row !== undefined && attempts <= 0) await subjects.delete(row.id);
      else if (row !== undefined) await subjects.put({ ...row, attempts });
      else if (attempts > 0) ids.set(key, await subjects.add({ ...subjectOf(line), key, attempts }));
    }
    return ids;
  }

  private async countTakes(of: readonly Pick<HistoryLine, "takeBytes">[], sign: 1 | -1): Promise<void> {
    const bytes = of.flatMap(({ takeBytes }) => (takeBytes === null ? [] : [takeBytes]));
    if (bytes.length === 0) return;
    const { meta } = this.database;
    const row = await meta.get("takes");
    const before = row?.id === "takes" ? row : { count: 0, bytes: 0 };
    await meta.put({
      id: "takes",
      count: before.count + sign * bytes.length,
      bytes: before.bytes + sign * bytes.reduce((sum, one) => sum + one, 0),
    });
  }
}

const withTakeOf = (line: HistoryLine, stand: LineRow | undefined): HistoryLine => ({
  ...line,
  starred: stand?.starred === 1,
  takeBytes: stand?.takeBytes ?? null,
});

/** Of attempts and what follows from them. */
function tablesOf(database: Tables): Table[] {
  const { lines, attempts, takes, subjects, days, items, meta, settings } = database;
  const { groupDays, reedDays, itemDays, tuneDays } = database;
  return [
    ...[lines, attempts, takes, subjects, days, items, meta, settings],
    ...[groupDays, reedDays, itemDays, tuneDays],
  ];
}
