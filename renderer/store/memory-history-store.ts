import type { Exercise } from "../../core/exercise/exercise.ts";
import { factOf, type SessionFact } from "../../core/progress/counts/session-fact.ts";
import type { TuneTry } from "../../core/progress/repertoire/repertoire-status.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import {
  type HistoryEntry,
  type HistoryLine,
  lineOf,
  type NewEntry,
  type StoredEntry,
} from "./history-entry.ts";
import type {
  AttemptFilter,
  AttemptKeeper,
  Facets,
  HistoryArchive,
  HistoryStore,
  LongWork,
  PageQuery,
  Removed,
  SaveHow,
} from "./history-store.ts";
import { facetsOf, lineFits, newestFirst } from "./line-order.ts";
import { bytesOfTake, packTakeHere, unpackTake } from "./take-packing.ts";
import { triesByTune, tuneDaysOf } from "./tune-tries.ts";

/** The history for as long as the window is open: where the browser's database cannot be had, and in tests. */
export class MemoryHistoryStore implements HistoryStore, HistoryArchive {
  readonly entries = new Map<string, StoredEntry>();

  constructor(private readonly newId: () => string) {}

  async save({ take, ...entry }: NewEntry, { id = this.newId() }: SaveHow = {}): Promise<string> {
    this.put({ ...entry, id, take: take === null ? null : await packTakeHere(take) });
    return id;
  }

  async list(): Promise<readonly HistoryLine[]> {
    return [...this.entries.values()]
      .map((entry) => lineOf(entry, bytesOfTake(entry.take)))
      .sort(newestFirst);
  }

  async page({ filter, before, limit }: PageQuery, signal?: AbortSignal): Promise<readonly HistoryLine[]> {
    signal?.throwIfAborted();
    const fitting = (await this.list()).filter((line) => lineFits(filter, line));
    const later = before === null ? fitting : fitting.filter((line) => newestFirst(before, line) < 0);
    return later.slice(0, limit);
  }

  async count(filter: AttemptFilter, signal?: AbortSignal): Promise<number> {
    signal?.throwIfAborted();
    return (await this.list()).filter((line) => lineFits(filter, line)).length;
  }

  async facets(): Promise<Facets> {
    return facetsOf((await this.list()).map((line) => ({ ...line, attempts: 1 })));
  }

  async recent(limit: number): Promise<readonly HistoryLine[]> {
    return this.page({ filter: {}, before: null, limit });
  }

  async triesAt(tuneId: string): Promise<readonly TuneTry[]> {
    return (await this.triesAtAll()).get(tuneId) ?? [];
  }

  async triesAtAll(): Promise<ReadonlyMap<string, readonly TuneTry[]>> {
    return triesByTune(tuneDaysOf(await this.list()));
  }

  async open(id: string): Promise<HistoryEntry | null> {
    const entry = this.entries.get(id);
    if (entry === undefined) return null;
    const { take, ...rest } = structuredClone(entry);
    return { ...rest, take: take === null ? null : await unpackTake(take) };
  }

  async replaceMarks(id: string, exercise: Exercise, attempt: Attempt): Promise<boolean> {
    const entry = this.entries.get(id);
    if (entry !== undefined) this.put({ ...entry, exercise, attempt });
    return entry !== undefined;
  }

  async star(id: string, on: boolean): Promise<boolean> {
    const entry = this.entries.get(id);
    if (entry === undefined) return false;
    const { starred: _, ...rest } = entry;
    this.put(on ? { ...rest, starred: true } : rest);
    return true;
  }

  async dropTake(id: string): Promise<boolean> {
    const entry = this.entries.get(id);
    if (entry === undefined || entry.take === null) return false;
    this.put({ ...entry, take: null });
    return true;
  }

  async remove(ids: readonly string[]): Promise<Removed> {
    const entries = await this.read(ids);
    for (const id of ids) this.entries.delete(id);
    return { entries };
  }

  async restore({ entries }: Removed): Promise<void> {
    for (const entry of entries) this.put(entry);
  }

  async ids(): Promise<readonly string[]> {
    return (await this.list()).map(({ id }) => id).reverse();
  }

  async read(ids: readonly string[]): Promise<readonly StoredEntry[]> {
    return structuredClone([...new Set(ids)].flatMap((id) => this.entries.get(id) ?? []));
  }

  async keepMany(entries: readonly StoredEntry[], { onProgress }: LongWork = {}): Promise<number> {
    const before = this.entries.size;
    for (const entry of entries) if (!this.entries.has(entry.id)) this.put(entry);
    onProgress?.(1);
    return this.entries.size - before;
  }

  keeper(): AttemptKeeper {
    let kept = 0;
    return {
      add: async (entries) => {
        kept += await this.keepMany(entries);
      },
      finish: async () => kept,
    };
  }

  /** The facts of all attempts, in no order. */
  facts(): readonly SessionFact[] {
    return [...this.entries.values()].map(factOf);
  }

  /** As a database would: what happens to the entry afterwards is not kept. */
  private put(entry: StoredEntry): void {
    this.entries.set(entry.id, structuredClone(entry));
  }
}
