import type { AskKind, ProgressAnswers } from "../progress/progress-view.ts";
import ProgressWorker from "./progress.worker.ts?worker";
import type { ProgressQuestion, ProgressReport } from "./progress-report.ts";

/** How a question ended. */
export type Outcome<Kind extends AskKind> =
  | { readonly kind: "read"; readonly answer: ProgressAnswers[Kind]["answer"] }
  | { readonly kind: "trouble"; readonly words: string };

/** What the history says, found off the window's thread. */
export interface ProgressWork {
  /** @returns what ends the question; nothing is told of it afterwards */
  ask<Kind extends AskKind>(
    kind: Kind,
    ask: ProgressAnswers[Kind]["ask"],
    onOutcome: (outcome: Outcome<Kind>) => void,
  ): () => void;
}

/** One worker for all questions, which keeps the database open; it begins with the first of them. */
export function createProgressWork(): ProgressWork {
  const waiting = new Map<number, (report: ProgressReport) => void>();
  let worker: Worker | null = null;
  let count = 0;
  const begin = (): Worker => {
    const begun = new ProgressWorker();
    begun.onmessage = ({ data }: MessageEvent<ProgressReport>) => {
      const tell = waiting.get(data.number);
      waiting.delete(data.number);
      tell?.(data);
    };
    begun.onerror = ({ message }) => {
      begun.terminate();
      worker = null;
      for (const [number, tell] of [...waiting]) {
        waiting.delete(number);
        tell({ number, kind: "trouble", words: message });
      }
    };
    return begun;
  };
  return {
    ask(kind, ask, onOutcome) {
      const number = ++count;
      waiting.set(number, (report) => {
        if (report.kind === "trouble") onOutcome({ kind: "trouble", words: report.words });
        else onOutcome({ kind: "read", answer: report.answer as never });
      });
      worker ??= begin();
      worker.postMessage({ number, kind, ask } as ProgressQuestion);
      return () => {
        if (!waiting.delete(number) || waiting.size > 0) return;
        // Nobody waits for what it is doing: the next question need not either.
        worker?.terminate();
        worker = null;
      };
    },
  };
}
