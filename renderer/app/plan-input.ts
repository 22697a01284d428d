import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import { seedOfDay } from "../../core/progress/plan/plan.ts";
import { type HarpPairs, PAIR_HARPS, PAIR_WEEKS, planPairs } from "../../core/progress/plan/plan-pairs.ts";
import type { PlanInput, Turns } from "../../core/progress/plan/plan-shape.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { WeakSpotsAnswer } from "../progress/progress-view.ts";
import type { ProgressStore } from "../store/progress-store.ts";
import { type PlanTuneWorld, tunesForPlan } from "./plan-tunes.ts";
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
  const seed = seedOfDay(wanted.day);
  const itemsRead = sources.progress.items();
  const [items, wishes, harps, tunes] = await Promise.all([
    itemsRead,
    sources.progress.wishes(),
    weakPairs(sources.progressWork, signal),
    itemsRead.then((items) => tunesForPlan(items, seed, sources, signal)),
  ]);
  signal.throwIfAborted();
  return { ...wanted, seed, items, wishes, weakPairs: planPairs(harps), tunes };
}

/** Of the harps with the most notes in the last weeks. */
async function weakPairs(work: ProgressWork, signal: AbortSignal): Promise<readonly HarpPairs[]> {
  const first = await weakSpots(work, null, signal);
  if (first.days === null) return [];
  const others = first.harps.slice(1, PAIR_HARPS).map(({ key }) => weakSpots(work, key, signal));
  return [first, ...(await Promise.all(others))].flatMap((answer) =>
    answer.days === null || answer.shown === null
      ? []
      : [{ harp: answer.shown.setting.harp, pairs: answer.shown.spots.pairs }],
  );
}

function weakSpots(work: ProgressWork, harp: string | null, signal: AbortSignal): Promise<WeakSpotsAnswer> {
  return new Promise((resolve, reject) => {
    const tell = (outcome: Outcome<"weak spots">) => {
      if (outcome.kind === "trouble") reject(new Error(outcome.words));
      else resolve(outcome.answer);
    };
    const ask = { weeks: PAIR_WEEKS, harp } as const;
    const known = work.known("weak spots", ask);
    if (known !== null) return tell(known);
    const stop = work.ask("weak spots", ask, tell);
    signal.addEventListener("abort", () => {
      stop();
      reject(signal.reason);
    });
  });
}
