import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { readAttempt } from "../../core/score/attempt-versions.ts";
import type { ReedpathDatabase } from "./database.ts";
import {
  type HistoryEntry,
  type HistoryLine,
  lineOf,
  type NewEntry,
  type StoredEntry,
} from "./history-entry.ts";
import type { AttemptFilter, Facets, HistoryStore, PageQuery, Removed } from "./history-store.ts";
import { facetsOf, lineFits, newestFirst } from "./line-order.ts";
import { orTrouble, StoreTrouble } from "./store-trouble.ts";
import { bytesOfTake, packTake, unpackTake } from "./take-packing.ts";

/** The history in the browser's database. */
export class DexieHistoryStore implements HistoryStore {
  constructor(
    private readonly database: ReedpathDatabase,
    private readonly newId: () => string,
  ) {}

  async save({ take, ...entry }: NewEntry): Promise<string> {
    const id = this.newId();
    await this.restore({
      entries: [{ ...entry, id, take: take === null ? null : await packTake(take) }],
    });
    return id;
  }

  async restore({ entries }: Removed): Promise<void> {
    await this.inTransaction(async () => {
      for (const entry of entries) await this.put(entry);
    });
  }

  async list(): Promise<readonly HistoryLine[]> {
    return orTrouble("the history", () => this.database.lines.orderBy("atEpochMs").reverse().toArray());
  }

  async page({ filter, before, limit }: PageQuery): Promise<readonly HistoryLine[]> {
    const fitting = (await this.list()).filter((line) => lineFits(filter, line));
    const later = before === null ? fitting : fitting.filter((line) => newestFirst(before, line) < 0);
    return later.slice(0, limit);
  }

  async count(filter: AttemptFilter): Promise<number> {
    return (await this.list()).filter((line) => lineFits(filter, line)).length;
  }

  async facets(): Promise<Facets> {
    return facetsOf((await this.list()).map((line) => ({ ...line, attempts: 1 })));
  }

  async recent(limit: number): Promise<readonly HistoryLine[]> {
    return this.page({ filter: {}, before: null, limit });
  }

  async ofTune(tuneId: string): Promise<readonly HistoryLine[]> {
    return orTrouble("the history", () =>
      this.database.lines.where("tuneId").equals(tuneId).sortBy("atEpochMs"),
    );
  }

  async open(id: string): Promise<HistoryEntry | null> {
    const [entry] = await this.inTransaction(() => this.read([id]));
    if (entry === undefined) return null;
    const { take, ...rest } = entry;
    return { ...rest, take: take === null ? null : await unpackTake(take) };
  }

  async replaceMarks(id: string, exercise: Exercise, attempt: Attempt): Promise<boolean> {
    return this.changed(id, (entry) => ({ ...entry, exercise, attempt }));
  }

  async star(id: string, on: boolean): Promise<boolean> {
    return this.changed(id, ({ starred: _, ...entry }) => (on ? { ...entry, starred: true } : entry));
  }

  async remove(ids: readonly string[]): Promise<Removed> {
    const { lines, attempts, takes } = this.database;
    return this.inTransaction(async () => {
      const entries = await this.read(ids);
      for (const table of [lines, attempts, takes]) await table.bulkDelete([...ids]);
      return { entries };
    });
  }

  private changed(id: string, change: (entry: StoredEntry) => StoredEntry): Promise<boolean> {
    return this.inTransaction(async () => {
      const [entry] = await this.read([id]);
      if (entry !== undefined) await this.put(change(entry));
      return entry !== undefined;
    });
  }

  private async put(entry: StoredEntry): Promise<void> {
    const { lines, attempts, takes } = this.database;
    const { take, ...rest } = entry;
    await lines.put(lineOf(rest, bytesOfTake(take)));
    await attempts.put(rest);
    if (take !== null && "samples" in take) await takes.put({ id: entry.id, ...take });
  }

  private inTransaction<T>(work: () => Promise<T>): Promise<T> {
    const { lines, attempts, takes } = this.database;
    return orTrouble("the history", () => this.database.transaction("rw", lines, attempts, takes, work));
  }

  /** To be called within a transaction. */
  private async read(ids: readonly string[]): Promise<readonly StoredEntry[]> {
    const { attempts, takes } = this.database;
    const [rows, kept] = await Promise.all([attempts.bulkGet([...ids]), takes.bulkGet([...ids])]);
    return rows.flatMap((row, place): StoredEntry[] => {
      if (row === undefined) return [];
      const read = readAttempt(row.attempt);
      if (read.kind === "unreadable") throw new StoreTrouble("newer version", read.reason);
      const { id: _, ...take } = kept[place] ?? {};
      return [{ ...row, attempt: read.attempt, take: "samples" in take ? take : null }];
    });
  }
}
