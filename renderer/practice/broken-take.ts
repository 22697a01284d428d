import type { DelayInUse } from "../../core/delay/measured-delays.ts";
import { type Exercise, lengthOf, onsetOf } from "../../core/exercise/exercise.ts";
import type { RecordedTake } from "../audio/microphone.ts";
import type { RunningTake } from "../store/running-take.ts";

/** What a take was played to. */
export interface PlayedTo {
  /** On the sound context's clock; null where there was no beat. */
  readonly beatZeroSeconds: number | null;
  /** The delay of the way the sound took when the take began. */
  readonly delay: DelayInUse | undefined;
}

/** A take that broke off: what is whole of it, until it is marked or let go. */
export class BrokenTake {
  private take: RecordedTake | null = null;
  private isTaken = false;
  private isLost = false;

  /** @param running its copy on the disk */
  constructor(
    private readonly exercise: Exercise,
    readonly playedTo: PlayedTo,
    private readonly running: RunningTake | null,
  ) {}

  /** @returns how many notes of the exercise lie in what is whole, or how many were heard where there was no beat */
  async look(rescued: Promise<RecordedTake | null>): Promise<number> {
    this.take = await rescued;
    this.isLost = this.take === null;
    return this.take === null ? 0 : this.wholeNotes(this.take);
  }

  /** Hands it over to be marked; null where nothing of it is whole. */
  takeOut(): { readonly take: RecordedTake; readonly running: RunningTake | null } | null {
    if (this.take === null) return null;
    this.isTaken = true;
    return { take: this.take, running: this.running };
  }

  /** Nobody wants it, unless it was taken out; what could not be saved here is left to what lies on the disk. */
  letGo(): void {
    if (this.isTaken) return;
    if (this.isLost) this.running?.leave();
    else void this.running?.discard();
  }

  private wholeNotes({ samples, sampleRateHz, firstSampleSeconds, listening }: RecordedTake): number {
    const { beatZeroSeconds, delay } = this.playedTo;
    if (beatZeroSeconds === null) return listening.notes.length;
    const late = beatZeroSeconds - firstSampleSeconds + (delay?.delayMs ?? 0) / 1000;
    const ends = samples.length / sampleRateHz;
    return this.exercise.notes.filter(
      (note) => late + onsetOf(this.exercise, note) + lengthOf(this.exercise, note) <= ends,
    ).length;
  }
}
