import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Way } from "../../core/score/attempt.ts";
import type { MicrophoneSession, OnPiece } from "../audio/microphone.ts";
import type { RunningTake } from "../store/running-take.ts";
import type { PracticeOptions, PracticeServices } from "./practice-services.ts";

/** Has the take that is being recorded put on the disk while it runs, so that nothing but its last moments can be lost. */
export class TakeKeeper {
  private running: RunningTake | null = null;
  /** On the sound context's clock. */
  private beatZeroSeconds: number | null = null;

  constructor(
    private readonly exercise: Exercise,
    private readonly way: Way,
    private readonly services: Pick<PracticeServices, "runningTakes" | "nowEpochMs" | "zone">,
    private readonly options: Pick<PracticeOptions, "latencyMs" | "delayOf">,
  ) {}

  /** A take begins, in place of one that runs. @returns what is to be told of its pieces */
  begin(microphone: MicrophoneSession): OnPiece {
    this.drop();
    const { nowEpochMs, zone, runningTakes } = this.services;
    const running = runningTakes.begin();
    this.running = running;
    const about = { atEpochMs: nowEpochMs(), zone: zone(), exercise: this.exercise, way: this.way };
    return ({ firstFrame, samples }) => {
      if (this.running !== running) return;
      const { sampleRateHz } = microphone;
      const latencyMs = this.options.delayOf?.(microphone).delayMs ?? this.options.latencyMs;
      const zero = this.beatZeroSeconds;
      const beatZeroSeconds = zero === null ? null : zero - firstFrame / sampleRateHz;
      void running.add({ ...about, latencyMs, sampleRateHz, beatZeroSeconds }, samples);
    };
  }

  /** Where beat 0 of the take lies, on the sound context's clock. */
  beatZeroAt(seconds: number): void {
    this.beatZeroSeconds = seconds;
  }

  /** The take is over and in the hands of the caller; null where none runs. */
  finish(): RunningTake | null {
    const { running } = this;
    this.forget();
    return running;
  }

  /** The take is not wanted. */
  drop(): void {
    void this.finish()?.discard();
  }

  private forget(): void {
    this.running = null;
    this.beatZeroSeconds = null;
  }
}
