import type { DemoAttempt } from "../../core/simulate/demo-days.ts";
import DemoDaysWorker from "./demo-days.worker.ts?worker";
import { DAYS_MADE_UP, type DemoAsk } from "./demo-entries.ts";
import type { DemoReport } from "./demo-report.ts";

/** Makes the days up; rejects with an AbortError where that was stopped. */
export type MakeDemoDays = (
  ask: DemoAsk,
  onProgress: (share: number) => void,
  signal: AbortSignal,
) => Promise<readonly DemoAttempt[]>;

/** Off the window's thread: a day takes a moment. */
export const makeDemoDays: MakeDemoDays = (ask, onProgress, signal) =>
  new Promise((resolve, reject) => {
    const worker = new DemoDaysWorker();
    const days: (readonly DemoAttempt[])[] = [];
    const end = () => {
      worker.terminate();
      signal.removeEventListener("abort", abort);
    };
    const abort = () => {
      end();
      reject(new DOMException("stopped", "AbortError"));
    };
    if (signal.aborted) return abort();
    signal.addEventListener("abort", abort);
    worker.onmessage = ({ data }: MessageEvent<DemoReport>) => {
      if (data.kind === "day") {
        days.push(data.attempts);
        return onProgress(days.length / DAYS_MADE_UP);
      }
      end();
      if (data.kind === "failed") reject(new Error(data.reason));
      else resolve(days.flat());
    };
    worker.onerror = ({ message }) => {
      end();
      reject(new Error(message));
    };
    worker.postMessage(ask);
  });
