import { rehearseMarking } from "../../core/score/rehearsal.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import type { MarkingJob, MarkingReport } from "./marking-messages.ts";

const report = (message: MarkingReport) => self.postMessage(message);

self.onmessage = ({ data: job }: MessageEvent<MarkingJob>) => {
  const { id } = job;
  try {
    if (job.kind === "rehearse") {
      rehearseMarking(job.exercise);
      report({ kind: "rehearsed", id });
    } else report({ kind: "marked", id, attempt: scoreTake(job.exercise, job.listening, job.settings) });
  } catch (error) {
    report({ kind: "failed", id, reason: error instanceof Error ? error.message : String(error) });
  }
};
