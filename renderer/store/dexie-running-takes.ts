import { Dexie } from "dexie";
import { onsetOf } from "../../core/exercise/exercise.ts";
import { MOST_TAKE_MINUTES, SILENCE_PEAK_DBFS } from "../../core/listen/take-limits.ts";
import type { ReedpathDatabase } from "./database.ts";
import type { RunningRow } from "./rows.ts";
import type { LeftTake, RunningHead, RunningTake, RunningTakes, TakenOver } from "./running-take.ts";
import { orTrouble } from "./store-trouble.ts";
import type { TakeLocks } from "./take-locks.ts";
import { written } from "./written.ts";

const DAY_MS = 86_400_000;
/** A take nobody asked for in so many days goes. */
export const KEPT_DAYS = 5;
/** So many are kept at the most; older ones go. */
export const MOST_LEFT = 3;
/** Of a longer take the beginning is on the disk: it needs what an hour of packed takes needs. */
export const MOST_RUNNING_MINUTES = MOST_TAKE_MINUTES / 3;

/** Running takes in the browser's database: a row of what is known, and one for each piece. */
export class DexieRunningTakes implements RunningTakes {
  constructor(
    private readonly database: ReedpathDatabase,
    private readonly locks: TakeLocks,
    private readonly newId: () => string,
  ) {}

  begin(): RunningTake {
    return new DexieRunningTake(this.database, this.locks, this.newId());
  }

  async left(nowEpochMs: number): Promise<readonly LeftTake[]> {
    const { runningTakes } = this.database;
    const rows = await orTrouble("the history", () => runningTakes.toArray());
    const held = await this.locks.held();
    const mine = rows.filter(({ id }) => !held.has(id)).sort((one, other) => other.atEpochMs - one.atEpochMs);
    const worth = mine.filter((row) => isWorthIt(row, nowEpochMs)).slice(0, MOST_LEFT);
    for (const row of mine) if (!worth.includes(row)) await forget(this.database, row.id);
    return worth.map((row) => ({
      id: row.id,
      atEpochMs: row.atEpochMs,
      title: row.exercise.title,
      playedSeconds: playedSeconds(row),
    }));
  }

  async takeOver(id: string): Promise<TakenOver | null> {
    const { database } = this;
    const release = await this.locks.hold(id);
    if (release === null) return null;
    const read = await orTrouble("the history", () => readRunning(database, id)).catch((error: unknown) => {
      release();
      throw error;
    });
    if (read === null) {
      release();
      return null;
    }
    const { row, pieces } = read;
    const { id: _, samples, peak: __, ...head } = row;
    const take = { samples: new Float32Array(samples), sampleRateHz: head.sampleRateHz };
    let at = 0;
    for (const piece of pieces) {
      take.samples.set(piece.samples, at);
      at += piece.samples.length;
    }
    return {
      id,
      head,
      take,
      discard: () => forget(database, id).finally(release),
      leave: release,
    };
  }
}

/** One take on its way: pieces are written one after the other, and none after one that could not be. */
class DexieRunningTake implements RunningTake {
  private release: (() => void) | null = null;
  private writing: Promise<void>;
  private number = 0;
  private samples = 0;
  private peak = 0;
  private isOver = false;

  constructor(
    private readonly database: ReedpathDatabase,
    locks: TakeLocks,
    readonly id: string,
  ) {
    // Nothing stands in the database that other windows could take for left.
    this.writing = locks.hold(id).then(
      (release) => {
        this.release = release;
        this.isOver ||= release === null;
      },
      () => this.stop(),
    );
  }

  add(head: RunningHead, samples: Float32Array): Promise<void> {
    this.writing = this.writing.then(() => this.write(head, samples)).catch(() => this.stop());
    return this.writing;
  }

  end(): Promise<void> {
    const before = this.writing;
    this.writing = before.then(() => this.stop());
    return this.writing;
  }

  async discard(): Promise<void> {
    await this.end();
    if (this.number > 0) await forget(this.database, this.id).catch(() => {});
    this.leave();
  }

  leave(): void {
    void this.end().then(() => this.release?.());
  }

  private stop(): void {
    this.isOver = true;
  }

  private async write(head: RunningHead, samples: Float32Array): Promise<void> {
    if (this.isOver || this.samples > MOST_RUNNING_MINUTES * 60 * head.sampleRateHz) return;
    const { runningTakes, takePieces } = this.database;
    const number = this.number++;
    this.samples += samples.length;
    this.peak = samples.reduce((peak, sample) => Math.max(peak, Math.abs(sample)), this.peak);
    const row = { ...head, id: this.id, samples: this.samples, peak: this.peak };
    await this.database.transaction("rw", [runningTakes, takePieces], async () => {
      await runningTakes.put(row);
      await takePieces.put({ take: this.id, number, samples });
    });
    await this.database.copied();
  }
}

const forget = (database: ReedpathDatabase, id: string): Promise<void> =>
  written(database, "the history", () =>
    database.transaction("rw", [database.runningTakes, database.takePieces], async () =>
      forgetRunning(database, id),
    ),
  );

/** Null where there is none. */
function readRunning(database: ReedpathDatabase, id: string) {
  const { runningTakes, takePieces } = database;
  return database.transaction("r", [runningTakes, takePieces], async () => {
    const row = await runningTakes.get(id);
    if (row === undefined) return null;
    return { row, pieces: await piecesOf(database, id).toArray() };
  });
}

const piecesOf = ({ takePieces }: Pick<ReedpathDatabase, "takePieces">, id: string) =>
  takePieces.where("[take+number]").between([id, Dexie.minKey], [id, Dexie.maxKey]);

/** Takes a running take out; to be called within a transaction. */
export async function forgetRunning(
  database: Pick<ReedpathDatabase, "runningTakes" | "takePieces">,
  id: string,
): Promise<void> {
  await database.runningTakes.delete(id);
  await piecesOf(database, id).delete();
}

/** Seconds recorded since beat 0. */
const playedSeconds = ({ samples, sampleRateHz, beatZeroSeconds }: RunningRow): number =>
  samples / sampleRateHz - (beatZeroSeconds ?? 0);

/** Something sounded, its first note was over, and it is not too old. A clock that was set back makes nothing old. */
function isWorthIt(row: RunningRow, nowEpochMs: number): boolean {
  const [first, second] = row.exercise.notes;
  const firstEnds = first === undefined || second === undefined ? 0 : onsetOf(row.exercise, second);
  return (
    nowEpochMs - row.atEpochMs <= KEPT_DAYS * DAY_MS &&
    20 * Math.log10(row.peak) > SILENCE_PEAK_DBFS &&
    playedSeconds(row) > firstEnds
  );
}
