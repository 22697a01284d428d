import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { knownReeds } from "../../../core/score/known-reeds.ts";
import { heardBeats } from "../../../core/workshop/measure/heard-beats.ts";
import { measureTake } from "../../../core/workshop/measure/measure-take.ts";
import { settledStretch } from "../../../core/workshop/measure/settled-stretch.ts";
import type { MeasureJob, MeasureReport } from "./measure-messages.ts";

const report = (message: MeasureReport) => self.postMessage(message);

self.onmessage = ({ data }: MessageEvent<MeasureJob>) => {
  try {
    report(doJob(data));
  } catch (error) {
    report({ kind: "failed", reason: error instanceof Error ? error.message : String(error) });
  }
};

function doJob(job: MeasureJob): MeasureReport {
  const { samples, sampleRateHz } = job;
  if (job.kind === "beats") {
    return {
      kind: "beats",
      heard: heardBeats(settledStretch(samples, sampleRateHz), sampleRateHz, job.pair),
    };
  }
  const onProgress = (share: number) => report({ kind: "progress", share });
  const listening = listenToTake(samples, sampleRateHz, onProgress, knownReeds(job.harp));
  return { kind: "take", measured: measureTake(job.harp, listening) };
}
