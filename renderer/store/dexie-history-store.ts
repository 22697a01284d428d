import { Dexie } from "dexie";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { TuneTry } from "../../core/progress/repertoire/repertoire-status.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import type { ReedpathDatabase } from "./database.ts";
import { DexiePages } from "./dexie-pages.ts";
import { forgetRunning } from "./dexie-running-takes.ts";
import { readEntries, readTables } from "./entry-reading.ts";
import type { OnHistoryChange } from "./history-changes.ts";
import type { HistoryEntry, HistoryLine, NewEntry } from "./history-entry.ts";
import type { AttemptFilter, Facets, HistoryStore, PageQuery, Removed, SaveHow } from "./history-store.ts";
import { HistoryWriter, prepare } from "./history-writer.ts";
import { orTrouble } from "./store-trouble.ts";
import { type PackTake, packTakeHere, unpackTake } from "./take-packing.ts";
import { triesByTune } from "./tune-tries.ts";

type TriesByTune = ReadonlyMap<string, readonly TuneTry[]>;

/** The history in the browser's database. */
export class DexieHistoryStore implements HistoryStore {
  private readonly writer: HistoryWriter;
  private readonly pages: DexiePages;
  /** What was tried at tunes, once it was read and as long as the history stays as it is. */
  private tries: Promise<TriesByTune> | null = null;

  /** @param onChange tells of changes by any window or worker; without it nothing is kept in memory */
  constructor(
    private readonly database: ReedpathDatabase,
    private readonly newId: () => string,
    private readonly packTake: PackTake = packTakeHere,
    private readonly onChange: OnHistoryChange | null = null,
  ) {
    this.writer = new HistoryWriter(database);
    this.pages = new DexiePages(database);
    onChange?.(() => {
      this.tries = null;
    });
  }

  async save({ take, ...entry }: NewEntry, { running, id = this.newId() }: SaveHow = {}): Promise<string> {
    const packed = take === null ? null : await this.packTake(take);
    await this.write(() => {
      const prepared = prepare({ ...entry, id }, packed);
      const { runningTakes, takePieces } = this.database;
      return this.writer.transaction(async () => {
        await this.writer.put([prepared]);
        if (running !== undefined) await forgetRunning(this.database, running);
      }, [runningTakes, takePieces]);
    });
    return id;
  }

  async restore({ entries }: Removed): Promise<void> {
    await this.write(() => {
      const prepared = entries.map(({ take, ...entry }) => prepare(entry, take));
      return this.writer.transaction(() => this.writer.put(prepared));
    });
  }

  list(): Promise<readonly HistoryLine[]> {
    return this.recent(Number.POSITIVE_INFINITY);
  }

  page(query: PageQuery, signal?: AbortSignal): Promise<readonly HistoryLine[]> {
    return orTrouble("the history", () => this.pages.page(query, signal));
  }

  count(filter: AttemptFilter, signal?: AbortSignal): Promise<number> {
    return orTrouble("the history", () => this.pages.count(filter, signal));
  }

  facets(): Promise<Facets> {
    return orTrouble("the history", () => this.pages.facets());
  }

  recent(limit: number): Promise<readonly HistoryLine[]> {
    return this.page({ filter: {}, before: null, limit });
  }

  async triesAt(tuneId: string): Promise<readonly TuneTry[]> {
    if (this.tries !== null) return (await this.tries).get(tuneId) ?? [];
    return orTrouble("the history", async () => {
      const own = this.database.tuneDays.where("[tuneId+day]");
      const rows = await own.between([tuneId, Dexie.minKey], [tuneId, Dexie.maxKey]).toArray();
      return triesByTune(rows).get(tuneId) ?? [];
    });
  }

  async triesAtAll(): Promise<TriesByTune> {
    if (this.tries !== null) return this.tries;
    const read = orTrouble("the history", async () => triesByTune(await this.database.tuneDays.toArray()));
    if (this.onChange !== null) this.tries = read;
    read.catch(() => {
      if (this.tries === read) this.tries = null;
    });
    return read;
  }

  async open(id: string): Promise<HistoryEntry | null> {
    const [entry] = await orTrouble("the history", () => this.read([id]));
    if (entry === undefined) return null;
    const { take, ...rest } = entry;
    return { ...rest, take: take === null ? null : await unpackTake(take) };
  }

  replaceMarks(id: string, exercise: Exercise, attempt: Attempt): Promise<boolean> {
    return this.write(async () => {
      const [entry] = await this.read([id]);
      if (entry === undefined) return false;
      const { take: _, ...rest } = entry;
      const prepared = prepare({ ...rest, exercise, attempt }, "as kept");
      return this.writer.transaction(async () => {
        // It may have been deleted in another window meanwhile.
        if ((await this.database.lines.get(id)) === undefined) return false;
        await this.writer.put([prepared]);
        return true;
      });
    });
  }

  star(id: string, on: boolean): Promise<boolean> {
    return this.write(() => this.writer.transaction(() => this.writer.star(id, on)));
  }

  dropTake(id: string): Promise<boolean> {
    return this.write(() => this.writer.transaction(async () => (await this.writer.dropTakes([id])) > 0));
  }

  remove(ids: readonly string[]): Promise<Removed> {
    return this.write(() =>
      this.writer.transaction(async () => {
        const entries = await readEntries(this.database, ids);
        await this.writer.remove(ids);
        return { entries };
      }),
    );
  }

  private read(ids: readonly string[]) {
    return this.database.transaction("r", readTables(this.database), async () =>
      readEntries(this.database, ids),
    );
  }

  private write<T>(work: () => Promise<T>): Promise<T> {
    return orTrouble("the history", work);
  }
}
