import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";
import type { AnalysisJob, AnalysisReport } from "./analysis-messages.ts";

const report = (message: AnalysisReport) => self.postMessage(message);

self.onmessage = (event: MessageEvent<AnalysisJob>) => {
  try {
    report(doJob(event.data));
  } catch (error) {
    report({ kind: "failed", reason: error instanceof Error ? error.message : String(error) });
  }
};

function doJob(job: AnalysisJob): AnalysisReport {
  const onProgress = (share: number) => report({ kind: "progress", share });
  if (job.kind === "listen") {
    return { kind: "heard", listening: listenToTake(job.samples, job.sampleRateHz, onProgress) };
  }
  const take = simulateTake(job.exercise, job.settings);
  return { kind: "simulated", take, listening: listenToTake(take.samples, take.sampleRateHz, onProgress) };
}
