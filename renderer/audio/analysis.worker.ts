import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { slowDown } from "../../core/listen/slow-down.ts";
import { reedsOfExercise } from "../../core/score/known-reeds.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";
import type { AnalysisJob, AnalysisReport } from "./analysis-messages.ts";
import { readSound } from "./read-sound.ts";

const report = (message: AnalysisReport, transfer: Transferable[] = []) =>
  self.postMessage(message, { transfer });

self.onmessage = (event: MessageEvent<AnalysisJob>) => {
  try {
    const done = doJob(event.data);
    report(done, samplesOf(done));
  } catch (error) {
    report({ kind: "failed", reason: error instanceof Error ? error.message : String(error) });
  }
};

/** Samples are handed over, not copied. */
function samplesOf(done: AnalysisReport): Transferable[] {
  if (done.kind === "simulated") return [done.take.samples.buffer];
  if (done.kind === "read" && done.read.kind === "take") return [done.read.samples.buffer];
  return done.kind === "slowed" ? [done.samples.buffer] : [];
}

function doJob(job: AnalysisJob): AnalysisReport {
  const onProgress = (share: number) => report({ kind: "progress", share });
  if (job.kind === "listen") {
    return { kind: "heard", listening: listenToTake(job.samples, job.sampleRateHz, onProgress, job.known) };
  }
  if (job.kind === "slow down") {
    return { kind: "slowed", samples: slowDown(job.samples, job.sampleRateHz, job.speed, onProgress) };
  }
  if (job.kind === "read") return { kind: "read", read: readSound(job.sound) };
  const take = simulateTake(job.exercise, job.settings);
  const known = reedsOfExercise(job.exercise);
  return {
    kind: "simulated",
    take,
    listening: listenToTake(take.samples, take.sampleRateHz, onProgress, known),
  };
}
