import type { Exercise } from "../../core/exercise/exercise.ts";
import { passageOf } from "../../core/exercise/passage.ts";
import type { PracticeServices } from "./practice-services.ts";
import type { HeardTake } from "./practice-state.ts";

export type HearWhat = "take" | "reference" | "in turn";

/** What is to be heard. */
export interface HearPlan {
  readonly what: HearWhat;
  /** Notes of the reference; both ends are heard. */
  readonly fromIndex: number;
  readonly toIndex: number;
  /** The same of the take; null for its end. */
  readonly fromSeconds: number;
  readonly toSeconds: number | null;
  readonly again: boolean;
  /** Half speed leaves the pitch as it was. */
  readonly speed: 1 | 0.5;
}

export type HearingState =
  | { readonly kind: "silent"; readonly trouble: string | null }
  /** The take is being made slower; the share done, 0..1. */
  | { readonly kind: "slowing"; readonly share: number }
  | { readonly kind: "take"; readonly atSeconds: number }
  | { readonly kind: "reference"; readonly noteIndex: number | null };

const SILENT: HearingState = { kind: "silent", trouble: null };
/** Between one and the other, and before it begins again: long enough for the ear to tell them apart. */
const REST_MS = 250;

type Services = Pick<PracticeServices, "reference" | "playback" | "slowInWorker">;

/** The take of a marked attempt, its reference, or both in turn, heard from any note on, once or again and again. */
export class TakeHearing {
  private state: HearingState = SILENT;
  private readonly listeners = new Set<() => void>();
  /** Counts what was asked for, so that the late answer of something stopped is recognised. */
  private asked = 0;
  /** Silences what sounds and lets whoever waits for its end go on. */
  private silence: () => void = () => {};
  private slowed: { readonly key: string; readonly of: Float32Array; readonly samples: Float32Array } | null =
    null;

  constructor(private readonly services: Services) {}

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly getState = (): HearingState => this.state;

  /** Sounds what is planned in place of anything before. */
  start(exercise: Exercise, take: HeardTake, plan: HearPlan): void {
    this.stop();
    const mine = this.asked;
    this.sound(mine, exercise, take, plan).then(
      () => this.isCurrent(mine) && this.set(SILENT),
      (error: unknown) => {
        if (!this.isCurrent(mine)) return;
        this.stop();
        const why = error instanceof Error ? error.message : String(error);
        this.set({ kind: "silent", trouble: `It cannot be played: ${why}.` });
      },
    );
  }

  stop(): void {
    this.asked++;
    const silence = this.silence;
    this.silence = () => {};
    silence();
    this.services.playback.stop();
    if (this.state !== SILENT) this.set(SILENT);
  }

  private async sound(mine: number, exercise: Exercise, take: HeardTake, plan: HearPlan): Promise<void> {
    const heard = plan.what === "reference" ? null : await this.takeOf(mine, take, plan);
    do {
      if (plan.what !== "take") await this.soundReference(mine, exercise, plan);
      if (plan.what === "in turn") await this.rest(mine);
      if (heard !== null) await this.soundTake(mine, heard, plan);
      if (plan.again) await this.rest(mine);
    } while (plan.again && this.isCurrent(mine));
  }

  /** The part of the take, slowed where it is to be. */
  private async takeOf(mine: number, take: HeardTake, plan: HearPlan): Promise<HeardTake> {
    const { samples, sampleRateHz } = take;
    const at = (seconds: number) => Math.min(samples.length, Math.max(0, Math.round(seconds * sampleRateHz)));
    const from = at(plan.fromSeconds);
    const to = plan.toSeconds === null ? samples.length : Math.max(from, at(plan.toSeconds));
    const part = samples.subarray(from, to);
    if (plan.speed === 1) return { samples: part, sampleRateHz };
    const key = `${from} ${to} ${plan.speed}`;
    if (this.slowed?.key === key && this.slowed.of === samples)
      return { samples: this.slowed.samples, sampleRateHz };
    const abort = new AbortController();
    this.whenStopped(mine, () => abort.abort());
    this.whileCurrent(mine, { kind: "slowing", share: 0 });
    const slow = await this.services.slowInWorker(part.slice(), sampleRateHz, plan.speed, {
      signal: abort.signal,
      onProgress: (share) => this.whileCurrent(mine, { kind: "slowing", share }),
    });
    this.slowed = { key, of: samples, samples: slow };
    return { samples: slow, sampleRateHz };
  }

  private async soundReference(mine: number, exercise: Exercise, plan: HearPlan): Promise<void> {
    if (!this.isCurrent(mine)) return;
    this.set({ kind: "reference", noteIndex: null });
    const passage = passageOf(exercise, plan.fromIndex, plan.toIndex, plan.speed);
    let done = () => {};
    const over = new Promise<void>((resolve) => {
      done = resolve;
    });
    const sounding = await this.services.reference.play(passage, {
      notes: true,
      metronome: "none",
      countIn: false,
      onNote: (noteIndex) => noteIndex !== null && this.whileCurrent(mine, { kind: "reference", noteIndex }),
      onEnd: () => done(),
    });
    this.whenStopped(mine, () => {
      sounding.stop();
      done();
    });
    await over;
  }

  private async soundTake(mine: number, take: HeardTake, plan: HearPlan): Promise<void> {
    if (!this.isCurrent(mine)) return;
    this.set({ kind: "take", atSeconds: plan.fromSeconds });
    await new Promise<void>((resolve) => {
      this.whenStopped(mine, resolve);
      this.services.playback.play(take.samples, take.sampleRateHz, 0, {
        onPosition: (seconds) =>
          this.whileCurrent(mine, { kind: "take", atSeconds: plan.fromSeconds + plan.speed * seconds }),
        onEnd: resolve,
      });
    });
  }

  private async rest(mine: number): Promise<void> {
    if (!this.isCurrent(mine)) return;
    await new Promise<void>((resolve) => {
      const timer = setTimeout(resolve, REST_MS);
      this.whenStopped(mine, () => {
        clearTimeout(timer);
        resolve();
      });
    });
  }

  private isCurrent(mine: number): boolean {
    return this.asked === mine;
  }

  /** Registers how to end what sounds now; if it has been stopped meanwhile, ends it at once. */
  private whenStopped(mine: number, silence: () => void): void {
    if (this.isCurrent(mine)) this.silence = silence;
    else silence();
  }

  private whileCurrent(mine: number, state: HearingState): void {
    if (this.isCurrent(mine)) this.set(state);
  }

  private set(state: HearingState): void {
    this.state = state;
    for (const listener of this.listeners) listener();
  }
}
