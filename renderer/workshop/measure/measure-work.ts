import type { Harp } from "../../../core/instrument/harp.ts";
import type { HeardBeats, SoundingPair } from "../../../core/workshop/measure/heard-beats.ts";
import type { MeasuredTake } from "../../../core/workshop/measure/measure-take.ts";
import { isNoProgress, oneJob } from "../../jobs/one-job.ts";
import MeasureWorker from "./measure.worker.ts?worker";
import type { MeasureJob, MeasureReport } from "./measure-messages.ts";

export interface MeasureOptions {
  /** Told the share done, 0..1. */
  readonly onProgress?: (share: number) => void;
  /** Ends the work at once; the promise then rejects with an AbortError. */
  readonly signal?: AbortSignal;
}

/** Measuring off the window's thread. */
export interface MeasureWork {
  take(
    samples: Float32Array,
    sampleRateHz: number,
    harp: Harp,
    options?: MeasureOptions,
  ): Promise<MeasuredTake>;
  beats(
    samples: Float32Array,
    sampleRateHz: number,
    pair: SoundingPair,
    options?: MeasureOptions,
  ): Promise<HeardBeats>;
}

export const measureWork: MeasureWork = {
  async take(samples, sampleRateHz, harp, options = {}) {
    const report = await work({ kind: "take", samples, sampleRateHz, harp }, options);
    if (report.kind !== "take") throw new Error(`the measuring answered "${report.kind}" to a recording`);
    return report.measured;
  },
  async beats(samples, sampleRateHz, pair, options = {}) {
    const report = await work({ kind: "beats", samples, sampleRateHz, pair }, options);
    if (report.kind !== "beats") throw new Error(`the measuring answered "${report.kind}" to two reeds`);
    return report.heard;
  },
};

const work = (job: MeasureJob, { onProgress, signal }: MeasureOptions) =>
  oneJob(() => new MeasureWorker(), job, isNoProgress<MeasureReport>, {
    signal,
    onMeanwhile: ({ share }) => onProgress?.(share),
  });
