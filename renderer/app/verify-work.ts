import { isNoProgress, oneJob } from "../jobs/one-job.ts";
import type { HistoryUpkeep } from "../store/history-store.ts";
import VerifyWorker from "./verify.worker.ts?worker";
import type { VerifyReport } from "./verify-report.ts";

/**
 * Checks and repairs the history of the browser's database off the window's thread. Stopping ends the worker: what it was
 * writing then is left as it was.
 */
export const verifyInWorker: HistoryUpkeep["verify"] = async ({ onProgress, signal } = {}) => {
  const report = await oneJob(() => new VerifyWorker(), {}, isNoProgress<VerifyReport>, {
    signal,
    onMeanwhile: ({ share }) => onProgress?.(share),
  });
  return report.verified;
};
