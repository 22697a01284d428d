import { isNoProgress, oneJob } from "../../jobs/one-job.ts";
import DesignWorker from "./design.worker.ts?worker";
import type { DesignAnswer, DesignAsk, DesignReport } from "./design-messages.ts";

export type DesignProgress = Omit<Extract<DesignReport, { kind: "progress" }>, "kind">;

/** Works a design out; rejects with an AbortError where that was stopped. */
export type DesignWork = (
  ask: DesignAsk,
  onProgress: (progress: DesignProgress) => void,
  signal: AbortSignal,
) => Promise<DesignAnswer>;

/** Off the window's thread, in a worker for each design. */
export const designInWorker: DesignWork = async (ask, onProgress, signal) => {
  const report = await oneJob(() => new DesignWorker(), ask, isNoProgress<DesignReport>, {
    signal,
    onMeanwhile: onProgress,
  });
  return report.answer;
};
