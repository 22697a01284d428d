import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import { seedOfDay } from "../../core/progress/plan.ts";
import { PAIR_WEEKS, planPairs } from "../../core/progress/plan-pairs.ts";
import type { PlanInput, Turns } from "../../core/progress/plan-shape.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { ShownSpots } from "../progress/progress-view.ts";
import type { ProgressStore } from "../store/progress-store.ts";
import { type PlanTuneWorld, planTunes } from "./plan-tunes.ts";
import type { Outcome, ProgressWork } from "./progress-work.ts";

/** What a plan is made from. */
export interface PlanSources extends PlanTuneWorld {
  readonly progress: Pick<ProgressStore, "items" | "wishes">;
  readonly progressWork: ProgressWork;
}

export interface PlanWanted {
  readonly minutes: number;
  readonly day: PracticeDay;
  readonly drills: DrillSetting;
  readonly known: Turns;
}

/** Reads everything a plan depends on. Rejects with a StoreTrouble, or an AbortError once stopped. */
export async function readPlanInput(
  sources: PlanSources,
  wanted: PlanWanted,
  signal: AbortSignal,
): Promise<PlanInput> {
  const [items, wishes, spots] = await Promise.all([
    sources.progress.items(),
    sources.progress.wishes(),
    weakSpots(sources.progressWork, signal),
  ]);
  const tunes = await planTunes(items, wanted.day, sources, signal);
  signal.throwIfAborted();
  const weakPairs = spots === null ? [] : planPairs(spots.spots.pairs, spots.setting.harp);
  return { ...wanted, seed: seedOfDay(wanted.day), items, wishes, weakPairs, tunes };
}

function weakSpots(work: ProgressWork, signal: AbortSignal): Promise<ShownSpots | null> {
  return new Promise((resolve, reject) => {
    const tell = (outcome: Outcome<"weak spots">) => {
      if (outcome.kind === "trouble") reject(new Error(outcome.words));
      else resolve(outcome.answer.days === null ? null : outcome.answer.shown);
    };
    const ask = { weeks: PAIR_WEEKS, harp: null } as const;
    const known = work.known("weak spots", ask);
    if (known !== null) return tell(known);
    const stop = work.ask("weak spots", ask, tell);
    signal.addEventListener("abort", () => {
      stop();
      reject(signal.reason);
    });
  });
}
