import type { Exercise } from "../../core/exercise/exercise.ts";
import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import type { Listening } from "../../core/listen/listening.ts";
import type { SimulatedTake, SimulationSettings } from "../../core/simulate/simulated-take.ts";
import { isNoProgress, oneJob } from "../jobs/one-job.ts";
import AnalysisWorker from "./analysis.worker.ts?worker";
import type { AnalysisJob, AnalysisReport } from "./analysis-messages.ts";
import type { DecodedRecording, UnreadSound } from "./read-sound.ts";

export interface WorkOptions {
  /** Told the share done, 0..1. */
  readonly onProgress?: (share: number) => void;
  /** Ends the work at once; the promise then rejects with an AbortError. */
  readonly signal?: AbortSignal;
}

export interface ListenOptions extends WorkOptions {
  /** Reeds of the instrument in hand; without, it is not known. */
  readonly known?: KnownReeds;
}

export type ListenInWorker = (
  samples: Float32Array,
  sampleRateHz: number,
  options?: ListenOptions,
) => Promise<Listening>;

export interface SimulatedAndHeard {
  readonly take: SimulatedTake;
  readonly listening: Listening;
}

export type SimulateInWorker = (
  exercise: Exercise,
  settings: SimulationSettings,
  options?: WorkOptions,
) => Promise<SimulatedAndHeard>;

/** @param speed 0.25 to 1; see `slowDown` */
export type SlowInWorker = (
  samples: Float32Array,
  sampleRateHz: number,
  speed: number,
  options?: WorkOptions,
) => Promise<Float32Array>;

/** Listens to a whole take off the window's thread. */
export const listenInWorker: ListenInWorker = async (samples, sampleRateHz, options = {}) => {
  const report = await work({ kind: "listen", samples, sampleRateHz, known: options.known ?? null }, options);
  if (report.kind !== "heard") throw new Error(`the analysis answered "${report.kind}" to a take`);
  return report.listening;
};

/** Has the simulated player play and be heard, off the window's thread. */
export const simulateInWorker: SimulateInWorker = async (exercise, settings, options = {}) => {
  const report = await work({ kind: "simulate", exercise, settings }, options);
  if (report.kind !== "simulated") throw new Error(`the analysis answered "${report.kind}" to a simulation`);
  return { take: report.take, listening: report.listening };
};

/** Makes a take slower and leaves its pitch, off the window's thread. */
export const slowInWorker: SlowInWorker = async (samples, sampleRateHz, speed, options = {}) => {
  const report = await work({ kind: "slow down", samples, sampleRateHz, speed }, options);
  if (report.kind !== "slowed") throw new Error(`the analysis answered "${report.kind}" to a slowing down`);
  return report.samples;
};

/** Reads a recording off the window's thread. @param sound given away */
export async function readInWorker(sound: UnreadSound, options: WorkOptions = {}): Promise<DecodedRecording> {
  const given = sound.kind === "WAV" ? [sound.bytes] : sound.channels.map((channel) => channel.buffer);
  const report = await work({ kind: "read", sound }, options, given);
  if (report.kind !== "read") throw new Error(`the analysis answered "${report.kind}" to a recording`);
  return report.read;
}

/** @param given goes over to the worker without a copy */
const work = (job: AnalysisJob, { onProgress, signal }: WorkOptions, given: Transferable[] = []) =>
  oneJob(() => new AnalysisWorker(), job, isNoProgress<AnalysisReport>, {
    signal,
    given,
    onMeanwhile: ({ share }) => onProgress?.(share),
  });
