import { useCallback, useMemo, useRef, useState } from "react";
import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import { planDay } from "../../core/progress/plan/plan.ts";
import { lengthened, swapped } from "../../core/progress/plan/plan-changes.ts";
import {
  type KeptPlan,
  keptPlan,
  readKeptPlan,
  withoutItem,
  withSkipped,
} from "../../core/progress/plan/plan-kept.ts";
import type { PlanInput } from "../../core/progress/plan/plan-shape.ts";
import { lineName } from "../../core/progress/plan/plan-shape.ts";
import { practiceDay } from "../../core/progress/practice-day.ts";
import type { Wish } from "../../core/progress/revisit/revisit.ts";
import { dueItems } from "../../core/progress/revisit/revisit-due.ts";
import type { ProgressStore } from "../store/progress-store.ts";
import type { Settings } from "../store/settings-store.ts";
import type { DueChange } from "../today/due-part.tsx";
import type { PlanView } from "../today/today-screen.tsx";
import type { PlanSources } from "./plan-input.ts";
import { sentence } from "./use-history.ts";
import { usePlanInput } from "./use-plan-input.ts";

interface PlanWorld extends PlanSources {
  readonly progress: Pick<ProgressStore, "items" | "wishes" | "wish">;
  readonly nowEpochMs: () => number;
  readonly zone: () => string;
}

export interface PlanOptions {
  readonly settings: Settings;
  readonly onSettings: (part: Partial<Settings>) => void;
  readonly drills: DrillSetting;
  /** Whether the plan is looked at: nothing is read before. */
  readonly isWanted: boolean;
  /** Changes whenever the history did. */
  readonly version: number;
  readonly onStart: (kept: KeptPlan) => void;
}

/** The plan of today: made from the history, or as it was changed or begun earlier today. */
export function usePlan(world: PlanWorld, options: PlanOptions) {
  const { settings, onSettings, drills, isWanted, version, onStart } = options;
  const day = practiceDay(world.nowEpochMs(), world.zone());
  const { planMinutes: minutes, planTurns: known } = settings;
  const { read, patch, stop, again } = usePlanInput(
    world,
    { minutes, day, drills, known },
    isWanted,
    version,
  );
  const [told, setTold] = useState<string | null>(null);
  const latest = useRef(world);
  latest.current = world;

  const input = useMemo(
    () => (read.kind === "read" ? { ...read.input, minutes, known, drills } : null),
    [read, minutes, known, drills],
  );
  const fresh = useMemo(() => (input === null ? null : keptPlan(planDay(input))), [input]);
  const begun = useMemo(() => readKeptPlan(settings.dayPlan, day), [settings.dayPlan, day]);
  const plan = begun ?? fresh;
  const keep = useCallback(
    (next: KeptPlan) => onSettings({ dayPlan: next as unknown as Record<string, unknown> }),
    [onSettings],
  );
  /** Something else on a line; null where there is nothing else. */
  const swap = useCallback(
    (from: KeptPlan, name: string): KeptPlan | null =>
      input === null ? null : swappedLine(from, name, input),
    [input],
  );
  const view = viewOf();
  return { view, swap, keep };

  function viewOf(): PlanView {
    if (read.kind === "reading" && plan === null) return { kind: "reading", onStop: stop };
    if (read.kind === "trouble" && plan === null)
      return { kind: "trouble", words: read.words, onAgain: again };
    if (plan === null) return { kind: "reading", onStop: stop };
    const change = (next: KeptPlan | null, otherwise: string | null) => {
      setTold(next === null ? otherwise : null);
      if (next !== null) keep(next);
    };
    return {
      kind: "plan",
      day,
      due: input === null ? [] : dueItems(input.items, input.wishes, day),
      onDue: (item, wish) => void wishFor(item, wish),
      plan: {
        kept: plan,
        told,
        onMinutes: (planMinutes) => onSettings({ planMinutes, dayPlan: null }),
        onStart: () => onStart(plan),
        onAnew: () => onSettings({ dayPlan: null }),
        onSkip: (name) => change(withSkipped(plan, name), null),
        onSwap: (name) =>
          change(swap(plan, name), input === null ? "The history is still being read." : NOTHING_ELSE),
        onLengthen: (name) => {
          const longer = lengthened(plan.plan, name);
          const isSame = minutesOf(longer, name) === minutesOf(plan.plan, name);
          change(isSame ? null : { ...plan, plan: longer }, "Longer than that needs a rest.");
        },
      },
    };
  }

  async function wishFor(item: string, wish: DueChange): Promise<void> {
    const { progress, nowEpochMs } = latest.current;
    try {
      const kept: Wish = { ...wish, item, wishedAtEpochMs: nowEpochMs() };
      await progress.wish(kept);
      patch((input) => withWish(input, kept));
      setTold(null);
      if (begun !== null && wish.kind !== "taken back") keep(withoutItem(begun, item));
    } catch (error) {
      setTold(sentence(error));
    }
  }
}

const withWish = (input: PlanInput, wish: Wish): PlanInput => ({ ...input, wishes: [...input.wishes, wish] });
const NOTHING_ELSE = "There is nothing else of this kind.";

const minutesOf = ({ lines }: KeptPlan["plan"], name: string) =>
  lines.find((line) => lineName(line) === name)?.minutes;

function swappedLine(from: KeptPlan, name: string, input: PlanInput): KeptPlan | null {
  const plan = swapped(from.plan, name, input, new Set(from.left));
  if (plan === null) return null;
  const line = from.plan.lines.find((one) => lineName(one) === name);
  const gone = line === undefined || line.kind === "rest" ? [] : line.parts.map(({ item }) => item);
  return { ...from, plan, left: [...from.left, ...gone] };
}
