import type { LoopbackDelay } from "../../core/delay/loopback-delay.ts";

/** What was played, what was recorded meanwhile, and when in the recording it was due. */
export interface DelayJob {
  readonly played: Float32Array;
  readonly recorded: Float32Array;
  readonly sampleRateHz: number;
  readonly playedSeconds: number;
}

export type DelayReport = LoopbackDelay;
