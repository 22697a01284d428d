import ProgressWorker from "./progress.worker.ts?worker";
import type { ProgressReport } from "./progress-report.ts";

/**
 * What the whole history says, found off the window's thread.
 *
 * @returns what ends it
 */
export function readProgress(onReport: (report: ProgressReport) => void): () => void {
  const worker = new ProgressWorker();
  const end = () => worker.terminate();
  worker.onmessage = ({ data }: MessageEvent<ProgressReport>) => {
    end();
    onReport(data);
  };
  worker.onerror = ({ message }) => {
    end();
    onReport({ kind: "trouble", words: message });
  };
  worker.postMessage({ zone: Intl.DateTimeFormat().resolvedOptions().timeZone });
  return end;
}
