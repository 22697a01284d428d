import type { Exercise } from "../../core/exercise/exercise.ts";
import { seededRandom } from "../../core/exercise/seeded-random.ts";
import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import type { Listening } from "../../core/listen/listening.ts";
import { isSilence } from "../../core/listen/take-limits.ts";
import type { Attempt, Way } from "../../core/score/attempt.ts";
import { type ScoreSettings, USUAL_SETTINGS } from "../../core/score/score-take.ts";
import { choosePlants } from "../../core/simulate/plants.ts";
import { milliseconds, seconds } from "../../core/units.ts";
import type { RunningTake } from "../store/running-take.ts";
import { keepAttempt, messageOf } from "./keep-attempt.ts";
import type { PracticeActivity } from "./practice-activity.ts";
import type { PracticeOptions, PracticeServices } from "./practice-services.ts";
import {
  type HeardTake,
  isBusy,
  markedState,
  type PracticeState,
  type TakeSource,
} from "./practice-state.ts";

const SIMULATION_RATE_HZ = 48_000;

/** What is practised, and how its takes are marked. */
export interface MarkedExercise {
  readonly exercise: Exercise;
  readonly services: PracticeServices;
  readonly options: Pick<PracticeOptions, "latencyMs">;
  readonly way: Way;
  readonly known: KnownReeds;
}

/** What was heard of an exercise. */
export interface HeardOnce {
  readonly take: HeardTake;
  readonly source: TakeSource;
  readonly listening: Listening;
  /** Its pieces in the database, where it was recorded here. */
  readonly running?: RunningTake | null;
}

/** Has takes and recordings of an exercise marked, kept and put on the sheet. */
export class TakeMarker {
  constructor(
    private readonly doing: PracticeActivity,
    private readonly marked: MarkedExercise,
    private readonly begin: (state: PracticeState) => number,
  ) {}

  /** A file's name and bytes. One that may be another player's is kept only when `whose` says so. */
  async markRecording(
    name: string,
    bytes: ArrayBuffer | Promise<ArrayBuffer>,
    whose: "the player's" | "anybody's" = "the player's",
  ): Promise<void> {
    if (isBusy(this.doing.getState())) return;
    const mine = this.begin({ kind: "working", what: `Reading ${name}`, share: null });
    const decode = async () => this.marked.services.decodeRecording(name, await bytes);
    const read = await decode().catch((error: unknown) => ({
      kind: "unreadable" as const,
      reason: messageOf(error),
    }));
    if (!this.doing.isCurrent(mine)) return;
    if (read.kind === "unreadable") return this.doing.fail(mine, `${name} cannot be marked: ${read.reason}.`);
    const listening = await this.listen(mine, read);
    if (listening === null) return;
    if (isSilence(listening.peakDbfs))
      return this.doing.fail(mine, `${name} cannot be marked: it holds only silence.`);
    try {
      const attempt = await this.score(listening, null);
      if (whose === "the player's")
        return await this.show(mine, attempt, { take: read, source: "recording", listening });
      if (this.doing.isCurrent(mine))
        this.doing.set({
          ...markedState(attempt, read, listening, "recording"),
          keeping: { kind: "offered" },
        });
    } catch (error) {
      this.doing.fail(mine, `${name} could not be marked: ${messageOf(error)}.`);
    }
  }

  /** Keeps marks that were not kept by themselves. */
  async keep(): Promise<void> {
    const state = this.doing.getState();
    if (state.kind !== "marked" || state.keeping.kind !== "offered") return;
    const { attempt, take, source, listening } = state;
    if (take === null || listening === null) return;
    this.doing.set({ ...state, keeping: { kind: "keeping" } });
    await this.show(this.doing.current, attempt, { take, source, listening });
  }

  /** Shows what marks look like: a simulated player with five mistakes, never kept. */
  async simulate(): Promise<void> {
    if (isBusy(this.doing.getState())) return;
    const { exercise, services } = this.marked;
    const mine = this.begin({ kind: "working", what: "The simulated player plays", share: null });
    try {
      const seed = services.newSeed();
      const plants = choosePlants(exercise, seededRandom(seed));
      const settings = { seed, plants, sampleRateHz: SIMULATION_RATE_HZ };
      const { take, listening } = await services.simulateInWorker(exercise, settings);
      if (!this.doing.isCurrent(mine)) return;
      const attempt = await this.score(listening, null, 0);
      await this.show(mine, attempt, { take, source: "simulated", listening });
    } catch (error) {
      this.doing.fail(mine, `The simulated player cannot play this: ${messageOf(error)}.`);
    }
  }

  /** How takes are marked here. @param beatZeroSeconds null where it is to be found from the notes */
  settings(beatZeroSeconds: number | null = null, latencyMs = this.marked.options.latencyMs): ScoreSettings {
    return {
      ...USUAL_SETTINGS,
      way: this.marked.way,
      latencyMs: milliseconds(latencyMs),
      beatZeroSeconds: beatZeroSeconds === null ? null : seconds(beatZeroSeconds),
    };
  }

  score(listening: Listening, beatZeroSeconds: number | null, latencyMs?: number): Promise<Attempt> {
    const { services, exercise } = this.marked;
    return services.marking.mark(exercise, listening, this.settings(beatZeroSeconds, latencyMs));
  }

  /** Keeps the attempt, then puts its marks on the sheet: what a player has seen is on the disk. */
  async show(mine: number, attempt: Attempt, heard: HeardOnce): Promise<void> {
    const { take, source, listening, running = null } = heard;
    const shown = markedState(attempt, take, listening, source);
    if (source === "simulated") {
      this.doing.set({ ...shown, keeping: { kind: "not kept", why: "simulated takes are not kept" } });
      return;
    }
    const { exercise, services } = this.marked;
    const { history, nowEpochMs, zone } = services;
    const entry = { atEpochMs: nowEpochMs(), zone: zone(), source, exercise, attempt, take };
    const keeping = keepAttempt(history, entry, running);
    const soon = await keeping.soon;
    if (!this.doing.isCurrent(mine)) return;
    this.doing.set({ ...shown, keeping: soon });
    this.doing.update(mine, "marked", { keeping: await keeping.settled });
    void keeping.afterAll.then((kept) => this.doing.update(mine, "marked", { keeping: kept }));
  }

  private async listen(mine: number, take: HeardTake): Promise<Listening | null> {
    const abort = new AbortController();
    this.doing.whenStopped(mine, () => abort.abort());
    try {
      const listening = await this.marked.services.listenInWorker(take.samples, take.sampleRateHz, {
        known: this.marked.known,
        signal: abort.signal,
        onProgress: (share) =>
          this.doing.isCurrent(mine) &&
          this.doing.set({ kind: "working", what: "Listening to the recording", share }),
      });
      return this.doing.isCurrent(mine) ? listening : null;
    } catch (error) {
      this.doing.fail(mine, `The recording could not be listened to: ${messageOf(error)}.`);
      return null;
    }
  }
}
