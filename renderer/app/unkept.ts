import { ARCHIVE_TYPE, archiveName } from "../archive/archive-name.ts";
import { entriesTexts } from "../archive/archive-texts.ts";
import { gzipped } from "../archive/gzip.ts";
import { openFile } from "../archive/sink.ts";
import type { HistoryStore, NewEntry, SaveHow } from "../store/history-store.ts";
import { NotKeptYet, StoreTrouble } from "../store/store-trouble.ts";
import type { PackTake } from "../store/take-packing.ts";

/** Attempts that could not be kept. */
export interface UnkeptState {
  /** How many there are in memory alone. */
  readonly attempts: number;
  /** How many of them have lost their take for want of memory. */
  readonly withoutTake: number;
  /** Why the last one could not be kept; null where all are. */
  readonly trouble: StoreTrouble | null;
  readonly isTrying: boolean;
  /** Name of the file they were all saved to last; null where one is in none. */
  readonly savedAs: string | null;
  /** Why no file was saved, as the end of a sentence. */
  readonly fileTrouble: string | null;
}

interface Waiting {
  readonly id: string;
  entry: NewEntry;
  readonly running: string | undefined;
  readonly onKept: (id: string) => void;
}

interface UnkeptWorld {
  readonly save: HistoryStore["save"];
  readonly newId: () => string;
  readonly packTake: PackTake;
  /** Opens the database where it is not open. Rejects where it cannot be opened. */
  readonly reopen: () => Promise<void>;
  readonly fileName: () => string;
}

/** Samples held in memory at the most: half an hour at 48 kHz. Of what is older the marks stay. */
const MOST_SAMPLES = 30 * 60 * 48_000;

const NONE: UnkeptState = {
  attempts: 0,
  withoutTake: 0,
  trouble: null,
  isTrying: false,
  savedAs: null,
  fileTrouble: null,
};

/** Keeps attempts, and holds those that cannot be kept until they can, or are in a file. */
export class UnkeptAttempts {
  private state = NONE;
  private waiting: Waiting[] = [];
  private readonly listeners = new Set<() => void>();

  constructor(private readonly world: UnkeptWorld) {}

  readonly getState = (): UnkeptState => this.state;

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** As the history keeps one. @throws NotKeptYet where it is held here instead */
  readonly save = async (
    entry: NewEntry,
    { running, id = this.world.newId() }: SaveHow = {},
  ): Promise<string> => {
    try {
      return await this.world.save(entry, running === undefined ? { id } : { id, running });
    } catch (error) {
      if (!(error instanceof StoreTrouble)) throw error;
      const kept = new Promise<string>((onKept) => this.waiting.push({ id, entry, running, onKept }));
      this.letGoOfOldTakes();
      this.set({ trouble: error, savedAs: null });
      throw new NotKeptYet(error, kept);
    }
  };

  /** Tries to keep them all, oldest first. @returns whether none is left */
  readonly tryAgain = async (): Promise<boolean> => {
    if (this.state.isTrying) return false;
    this.set({ isTrying: true, fileTrouble: null });
    try {
      await this.world.reopen();
      for (let first = this.waiting[0]; first !== undefined; first = this.waiting[0]) {
        const { id, entry, running, onKept } = first;
        await this.world.save(entry, running === undefined ? { id } : { id, running });
        this.waiting.shift();
        onKept(id);
        this.set({});
      }
      this.set({ isTrying: false, trouble: null, savedAs: null });
      return true;
    } catch (error) {
      const trouble = error instanceof StoreTrouble ? error : new StoreTrouble("unavailable", String(error));
      this.set({ isTrying: false, trouble });
      return false;
    }
  };

  /** Saves them as an archive, which is brought in as any other; they are held here as before. */
  readonly saveToFile = async (): Promise<void> => {
    const last = this.waiting.at(-1);
    const opened = await openFile(this.world.fileName(), ARCHIVE_TYPE);
    if (opened.kind === "cancelled") return;
    if (opened.kind === "failed") return this.set({ fileTrouble: opened.reason });
    try {
      const texts = entriesTexts(this.packed([...this.waiting]));
      for await (const bytes of gzipped(texts)) await opened.sink.add(bytes);
      const saved = await opened.sink.finish();
      if (saved.kind === "failed") this.set({ fileTrouble: saved.reason });
      // Another may have come meanwhile, which is in no file.
      if (saved.kind === "saved" && this.waiting.at(-1) === last)
        this.set({ savedAs: saved.name, fileTrouble: null });
    } catch (error) {
      await opened.sink.abandon();
      this.set({ fileTrouble: error instanceof Error ? error.message : String(error) });
    }
  };

  /** In the order of archives. */
  private async *packed(waiting: readonly Waiting[]) {
    for (const { id, entry } of [...waiting].sort((one, other) => (one.id < other.id ? -1 : 1))) {
      const { take, ...rest } = entry;
      yield { ...rest, id, take: take === null ? null : await this.world.packTake(take) };
    }
  }

  private letGoOfOldTakes(): void {
    let samples = 0;
    for (const one of [...this.waiting].reverse()) {
      samples += one.entry.take?.samples.length ?? 0;
      if (samples > MOST_SAMPLES && one !== this.waiting.at(-1)) one.entry = { ...one.entry, take: null };
    }
  }

  private set(part: Partial<UnkeptState>): void {
    const withoutTake = this.waiting.filter(({ entry }) => entry.take === null).length;
    this.state = { ...this.state, attempts: this.waiting.length, withoutTake, ...part };
    for (const listener of this.listeners) listener();
  }
}

/** Name of the file of what could not be kept. */
export const unkeptName = (nowEpochMs: number, zone: string): string =>
  archiveName(nowEpochMs, zone).replace("archive", "not-kept");
