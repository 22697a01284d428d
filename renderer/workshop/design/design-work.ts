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
export const designInWorker: DesignWork = (ask, onProgress, signal) =>
  new Promise((resolve, reject) => {
    const worker = new DesignWorker();
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
    worker.onmessage = ({ data }: MessageEvent<DesignReport>) => {
      if (data.kind === "progress") return onProgress(data);
      end();
      if (data.kind === "failed") reject(new Error(data.reason));
      else resolve(data.answer);
    };
    worker.onerror = ({ message }) => {
      end();
      reject(new Error(message));
    };
    worker.postMessage(ask);
  });
