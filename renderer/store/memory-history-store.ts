import {
  type HistoryEntry,
  type HistoryLine,
  type HistoryStore,
  lineOf,
  type NewEntry,
} from "./history-store.ts";

/** The history for as long as the window is open: where the browser's database cannot be had, and in tests. */
export class MemoryHistoryStore implements HistoryStore {
  private readonly entries = new Map<string, HistoryEntry>();

  constructor(private readonly newId: () => string) {}

  async save(entry: NewEntry): Promise<string> {
    const id = this.newId();
    await this.restore({ ...entry, id });
    return id;
  }

  async restore(entry: HistoryEntry): Promise<void> {
    // As a database would: what happens to the entry afterwards is not kept.
    this.entries.set(entry.id, structuredClone(entry));
  }

  async list(): Promise<readonly HistoryLine[]> {
    return [...this.entries.values()].map(lineOf).sort((a, b) => b.atEpochMs - a.atEpochMs);
  }

  async ofTune(tuneId: string): Promise<readonly HistoryLine[]> {
    return [...(await this.list())].reverse().filter((line) => line.tuneId === tuneId);
  }

  async open(id: string): Promise<HistoryEntry | null> {
    return structuredClone(this.entries.get(id) ?? null);
  }

  async remove(id: string): Promise<HistoryEntry | null> {
    const entry = await this.open(id);
    this.entries.delete(id);
    return entry;
  }
}
