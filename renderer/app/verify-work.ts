import type { HistoryUpkeep } from "../store/history-store.ts";
import VerifyWorker from "./verify.worker.ts?worker";
import type { VerifyReport } from "./verify-report.ts";

/**
 * Checks and repairs the history of the browser's database off the window's thread. Stopping ends the worker: what it was
 * writing then is left as it was.
 */
export const verifyInWorker: HistoryUpkeep["verify"] = ({ onProgress, signal } = {}) =>
  new Promise((resolve, reject) => {
    const worker = new VerifyWorker();
    const end = () => {
      worker.terminate();
      signal?.removeEventListener("abort", abort);
    };
    const abort = () => {
      end();
      reject(new DOMException("stopped", "AbortError"));
    };
    if (signal?.aborted) return abort();
    signal?.addEventListener("abort", abort);
    worker.onmessage = ({ data }: MessageEvent<VerifyReport>) => {
      if (data.kind === "progress") return onProgress?.(data.share);
      end();
      if (data.kind === "failed") reject(new Error(data.reason));
      else resolve(data.verified);
    };
    worker.onerror = ({ message }) => {
      end();
      reject(new Error(message));
    };
    worker.postMessage({});
  });
