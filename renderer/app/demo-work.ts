import type { DemoAttempt } from "../../core/simulate/demo-days.ts";
import { oneJob } from "../jobs/one-job.ts";
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
export const makeDemoDays: MakeDemoDays = async (ask, onProgress, signal) => {
  const days: (readonly DemoAttempt[])[] = [];
  await oneJob(() => new DemoDaysWorker(), ask, isAll, {
    signal,
    onMeanwhile: ({ attempts }) => {
      days.push(attempts);
      onProgress(days.length / DAYS_MADE_UP);
    },
  });
  return days.flat();
};

const isAll = (report: DemoReport): report is Extract<DemoReport, { kind: "all" }> => report.kind === "all";
