import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import { readTab } from "../../core/instrument/tab.ts";
import { seedOfDay } from "../../core/progress/plan.ts";
import type { PlanInput, PlanPair, Turns } from "../../core/progress/plan-shape.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import { pairOf } from "../../core/progress/reed-counts.ts";
import type { ShownSpots } from "../progress/progress-view.ts";
import type { ProgressStore } from "../store/progress-store.ts";
import { type PlanTuneWorld, planTunes } from "./plan-tunes.ts";
import type { ProgressWork } from "./progress-work.ts";

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

/** Weeks of practice in which what costs most is looked for. */
const WEEKS = 4;

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
  return { ...wanted, seed: seedOfDay(wanted.day), items, wishes, weakPairs: pairsOf(spots), tunes };
}

function weakSpots(work: ProgressWork, signal: AbortSignal): Promise<ShownSpots | null> {
  return new Promise((resolve, reject) => {
    const stop = work.ask("weak spots", { weeks: WEEKS, harp: null }, (outcome) => {
      if (outcome.kind === "trouble") reject(new Error(outcome.words));
      else resolve(outcome.answer.days === null ? null : outcome.answer.shown);
    });
    signal.addEventListener("abort", () => {
      stop();
      reject(signal.reason);
    });
  });
}

/** Pairs that were found weak, what costs most first, on the harp they were played on. */
function pairsOf(shown: ShownSpots | null): readonly PlanPair[] {
  if (shown === null) return [];
  const { spots, setting } = shown;
  return spots.pairs.flatMap(({ name, words }) => {
    const [first, second] = (pairOf(name) ?? []).map(readTab);
    return first == null || second == null
      ? []
      : [{ harp: setting.harp, first, second, why: words.replace(/\.$/, "") }];
  });
}
