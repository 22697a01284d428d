import { isNoProgress, oneJob } from "../jobs/one-job.ts";
import type { LongWork } from "../store/history-store.ts";
import CopyWorker from "./copy.worker.ts?worker";
import type { CopyJob, CopyReport } from "./copy-report.ts";

/** Long work at the second copy of the browser's database, off the window's thread. What was done before it is stopped stays. */
export async function copyInWorker(job: CopyJob, { onProgress, signal }: LongWork = {}): Promise<void> {
  await oneJob(() => new CopyWorker(), job, isNoProgress<CopyReport>, {
    signal,
    onMeanwhile: ({ share }) => onProgress?.(share),
  });
}
