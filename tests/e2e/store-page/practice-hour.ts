import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import type { DemoAttempt } from "../../../core/simulate/demo-days.ts";
import type { DexieHistoryStore } from "../../../renderer/store/dexie-history-store.ts";
import type { Removed } from "../../../renderer/store/history-store.ts";
import type { RunningTakes } from "../../../renderer/store/running-take.ts";
import { MADE_RATE_HZ, piecesIn, soundOf, takeOf } from "./made-sound.ts";
import { entryOf } from "./played-pool.ts";

/** What the page says it is about to do, and has done once the store's promise was kept. */
export type Said =
  /** A take begins whose sound follows from the seed; so many of its pieces are on the disk. */
  | { readonly said: "running"; readonly take: string; readonly seed: number }
  | { readonly said: "piece"; readonly take: string; readonly pieces: number }
  | { readonly said: "discarding" | "discarded"; readonly take: string }
  /** Its attempt is to have just these pieces. */
  | { readonly said: "saving"; readonly id: string; readonly take: string; readonly pieces: number }
  | { readonly said: "saved"; readonly id: string; readonly take: string }
  | { readonly said: "removing" | "removed" | "restoring" | "restored"; readonly ids: readonly string[] }
  | { readonly said: "bringing" | "brought"; readonly ids: readonly string[] }
  | { readonly said: "starred"; readonly id: string }
  | { readonly said: "trouble"; readonly words: string };

export interface HourSetting {
  readonly seed: number;
  readonly startsEpochMs: number;
  readonly history: DexieHistoryStore;
  readonly runningTakes: RunningTakes;
  readonly pool: readonly DemoAttempt[];
  /** Ids of running takes that an earlier window left. */
  readonly left: readonly string[];
}

const MINUTE_MS = 60_000;
const MOST_PIECES = 8;

/** Practises without end as a hurried player would, and says everything to the test outside. */
export class PracticeHour {
  private readonly random: () => number;
  private readonly kept: string[] = [];
  private readonly removed: Removed[] = [];
  private clockMs: number;

  constructor(private readonly setting: HourSetting) {
    this.random = seededRandom(setting.seed);
    this.clockMs = setting.startsEpochMs;
  }

  /** What was left is taken up first; then takes, one after the other, some attempts deleted, brought back, starred. */
  async goOn(): Promise<void> {
    for (const id of this.setting.left) if (this.random() < 0.7) await this.takeUp(id);
    for (;;) {
      const chance = this.random();
      if (chance < 0.72 || this.kept.length < 3) await this.playTake();
      else if (chance < 0.82) await this.remove();
      else if (chance < 0.92) await this.restore();
      else await this.star();
    }
  }

  /** Recorded piece by piece, then kept; now and then thrown away, or left as by a window that was closed. */
  private async playTake(): Promise<void> {
    const seed = Math.floor(1e6 * this.random());
    const running = this.setting.runningTakes.begin();
    const { id: take } = running;
    await say({ said: "running", take, seed });
    const entry = this.nextEntry();
    const head = { ...entry, way: "in time" as const, latencyMs: 0, sampleRateHz: MADE_RATE_HZ };
    const pieces = 1 + Math.floor(MOST_PIECES * this.random());
    for (let n = 0; n < pieces; n++) {
      const { atEpochMs, zone, exercise, way, latencyMs, sampleRateHz } = head;
      const about = { atEpochMs, zone, exercise, way, latencyMs, sampleRateHz, beatZeroSeconds: null };
      await running.add(about, soundOf(seed, n));
      await say({ said: "piece", take, pieces: n + 1 });
    }
    const chance = this.random();
    if (chance < 0.08) return running.leave();
    if (chance < 0.2) {
      await say({ said: "discarding", take });
      await running.discard();
      return say({ said: "discarded", take });
    }
    await running.end();
    await this.keep(take, takeOf(seed, pieces));
    running.leave();
  }

  private async takeUp(id: string): Promise<void> {
    const left = await this.setting.runningTakes.takeOver(id);
    if (left === null) return;
    if (this.random() < 0.7) {
      await this.keep(id, left.take.samples);
      return left.leave();
    }
    await say({ said: "discarding", take: id });
    await left.discard();
    await say({ said: "discarded", take: id });
  }

  private async keep(take: string, samples: Float32Array): Promise<void> {
    const id = crypto.randomUUID();
    await say({ said: "saving", id, take, pieces: piecesIn(samples.length) });
    const entry = { ...this.nextEntry(), take: { samples, sampleRateHz: MADE_RATE_HZ } };
    await this.setting.history.save(entry, { id, running: take });
    this.kept.push(id);
    await say({ said: "saved", id, take });
  }

  /** The clock is set back now and then. */
  private nextEntry() {
    const { pool } = this.setting;
    this.clockMs += (this.random() < 0.07 ? -300 : 1 + 2 * this.random()) * MINUTE_MS;
    return entryOf(pool, Math.floor(this.random() * 5 * pool.length), Math.round(this.clockMs));
  }

  private async remove(): Promise<void> {
    const { kept } = this;
    const ids = kept.splice(Math.floor(this.random() * (kept.length - 1)), 1 + Math.floor(2 * this.random()));
    await say({ said: "removing", ids });
    this.removed.push(await this.setting.history.remove(ids));
    await say({ said: "removed", ids });
  }

  private async restore(): Promise<void> {
    const back = this.removed.pop();
    if (back === undefined) return;
    const ids = back.entries.map(({ id }) => id);
    await say({ said: "restoring", ids });
    await this.setting.history.restore(back);
    this.kept.push(...ids);
    await say({ said: "restored", ids });
  }

  private async star(): Promise<void> {
    const id = this.kept[Math.floor(this.random() * this.kept.length)] ?? "";
    await this.setting.history.star(id, true);
    await say({ said: "starred", id });
  }
}

declare global {
  /** Of the test outside; settled once it has heard. */
  var tell: ((said: Said) => Promise<void>) | undefined;
}

/** What is about to be done is heard outside before it is. */
export const say = async (said: Said): Promise<void> => tell?.(said);
