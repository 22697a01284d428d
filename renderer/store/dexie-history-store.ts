import { readAttempt } from "../../core/score/attempt-versions.ts";
import type { ReedpathDatabase } from "./database.ts";
import {
  type HistoryEntry,
  type HistoryLine,
  type HistoryStore,
  lineOf,
  type NewEntry,
} from "./history-store.ts";
import { orTrouble, StoreTrouble } from "./store-trouble.ts";

/** The history in the browser's database. */
export class DexieHistoryStore implements HistoryStore {
  constructor(
    private readonly database: ReedpathDatabase,
    private readonly newId: () => string,
  ) {}

  async save(entry: NewEntry): Promise<string> {
    const whole = { ...entry, id: this.newId() };
    await this.restore(whole);
    return whole.id;
  }

  async restore(entry: HistoryEntry): Promise<void> {
    const { lines, attempts, takes } = this.database;
    const { id, atEpochMs, source, exercise, attempt, take } = entry;
    // A view into a larger buffer would store the whole buffer.
    const samples = take.samples.slice();
    await orTrouble("the history", () =>
      this.database.transaction("rw", lines, attempts, takes, async () => {
        await lines.put(lineOf(entry));
        await attempts.put({ id, atEpochMs, source, exercise, attempt });
        await takes.put({ id, sampleRateHz: take.sampleRateHz, samples });
      }),
    );
  }

  async list(): Promise<readonly HistoryLine[]> {
    return orTrouble("the history", () => this.database.lines.orderBy("atEpochMs").reverse().toArray());
  }

  async ofTune(tuneId: string): Promise<readonly HistoryLine[]> {
    return orTrouble("the history", () =>
      this.database.lines.where("tuneId").equals(tuneId).sortBy("atEpochMs"),
    );
  }

  async open(id: string): Promise<HistoryEntry | null> {
    const { attempts, takes } = this.database;
    return orTrouble("the history", () =>
      this.database.transaction("r", attempts, takes, () => this.read(id)),
    );
  }

  async remove(id: string): Promise<HistoryEntry | null> {
    const { lines, attempts, takes } = this.database;
    return orTrouble("the history", () =>
      this.database.transaction("rw", lines, attempts, takes, async () => {
        const entry = await this.read(id);
        await Promise.all([lines.delete(id), attempts.delete(id), takes.delete(id)]);
        return entry;
      }),
    );
  }

  /** To be called within a transaction. */
  private async read(id: string): Promise<HistoryEntry | null> {
    const { attempts, takes } = this.database;
    const [row, take] = await Promise.all([attempts.get(id), takes.get(id)]);
    if (row === undefined || take === undefined) return null;
    const read = readAttempt(row.attempt);
    if (read.kind === "unreadable") throw new StoreTrouble("newer version", read.reason);
    const { samples, sampleRateHz } = take;
    return { ...row, attempt: read.attempt, take: { samples, sampleRateHz } };
  }
}
