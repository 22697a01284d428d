import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { knownReeds } from "../../core/score/known-reeds.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";
import type { AnalysisJob, AnalysisReport } from "./analysis-messages.ts";

const report = (message: AnalysisReport, transfer: Transferable[] = []) =>
  self.postMessage(message, { transfer });

self.onmessage = (event: MessageEvent<AnalysisJob>) => {
  try {
    const done = doJob(event.data);
    report(done, done.kind === "simulated" ? [done.take.samples.buffer] : []);
  } catch (error) {
    report({ kind: "failed", reason: error instanceof Error ? error.message : String(error) });
  }
};

function doJob(job: AnalysisJob): AnalysisReport {
  const onProgress = (share: number) => report({ kind: "progress", share });
  if (job.kind === "listen") {
    return { kind: "heard", listening: listenToTake(job.samples, job.sampleRateHz, onProgress, job.known) };
  }
  const take = simulateTake(job.exercise, job.settings);
  const known = knownReeds(job.exercise.harp);
  return {
    kind: "simulated",
    take,
    listening: listenToTake(take.samples, take.sampleRateHz, onProgress, known),
  };
}
