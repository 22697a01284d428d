import type { Harp } from "../../../core/instrument/harp.ts";
import type { HeardBeats, SoundingPair } from "../../../core/workshop/measure/heard-beats.ts";
import type { MeasuredTake } from "../../../core/workshop/measure/measure-take.ts";
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

/** One job, one worker: cancelling is ending it. */
function work(job: MeasureJob, { onProgress, signal }: MeasureOptions): Promise<MeasureReport> {
  return new Promise((resolve, reject) => {
    if (signal?.aborted) return reject(new DOMException("stopped", "AbortError"));
    const worker = new MeasureWorker();
    const settle = (outcome: () => void) => {
      worker.terminate();
      signal?.removeEventListener("abort", abort);
      outcome();
    };
    const abort = () => settle(() => reject(new DOMException("stopped", "AbortError")));
    signal?.addEventListener("abort", abort);
    worker.onmessage = ({ data }: MessageEvent<MeasureReport>) => {
      if (data.kind === "progress") onProgress?.(data.share);
      else if (data.kind === "failed") settle(() => reject(new Error(data.reason)));
      else settle(() => resolve(data));
    };
    worker.onerror = (event) => settle(() => reject(new Error(event.message)));
    worker.postMessage(job);
  });
}
