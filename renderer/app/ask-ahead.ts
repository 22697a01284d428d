import { PAIR_WEEKS } from "../../core/progress/plan/plan-pairs.ts";
import type { Services } from "./services.ts";

/** Begins what the plan of today, which the window opens with, waits for longest: while settings and harps are read and drawn. */
export function askAhead({ progressWork, history }: Pick<Services, "progressWork" | "history">): void {
  progressWork.ask("weak spots", { weeks: PAIR_WEEKS, harp: null }, () => {});
  // Whoever asks again is told what is wrong with it.
  history.triesAtAll().catch(() => {});
}
