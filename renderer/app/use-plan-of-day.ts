import { useMemo, useRef } from "react";
import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import type { KeptPlan } from "../../core/progress/plan/plan-kept.ts";
import type { DrillChoice } from "../drills/drill-choice.ts";
import { FIRST_CHOICE } from "../drills/drill-choice.ts";
import { specOfChoice } from "../drills/spec-of-choice.ts";
import { PracticeSession } from "../practice/practice-session.ts";
import type { Settings } from "../store/settings-store.ts";
import { type ExerciseWorld, planExercise } from "./plan-exercise.ts";
import { PlanRun } from "./plan-run.ts";
import type { PlanTuneWorld } from "./plan-tunes.ts";
import type { Room } from "./room.ts";
import type { Services } from "./services.ts";
import { usePlan } from "./use-plan.ts";

interface PlanOfDayOptions {
  readonly services: Services;
  readonly settings: Settings;
  readonly onSettings: (part: Partial<Settings>) => void;
  readonly delayOf: ConstructorParameters<typeof PracticeSession>[2]["delayOf"];
  readonly choice: DrillChoice;
  readonly drillHarp: Harp;
  readonly tunes: Pick<PlanTuneWorld, "tuneText" | "listed" | "harps" | "abilities" | "rules"> &
    Pick<ExerciseWorld, "openTune">;
  readonly room: Room;
  /** Whether the player's harps are known yet. */
  readonly hasHarps: boolean;
  readonly version: number;
  readonly onEnter: (room: Room) => void;
}

/** Pause between marks and what comes next where the player has set none. */
const USUAL_PAUSE_SECONDS = 8;

/** The plan of the day, joined to what it is made from and to the sheet it is played on. */
export function usePlanOfDay(options: PlanOfDayOptions) {
  const {
    services,
    settings,
    onSettings,
    delayOf,
    choice,
    drillHarp,
    tunes,
    room,
    hasHarps,
    version,
    onEnter,
  } = options;
  const drills = useMemo(() => drillSetting(choice, drillHarp), [choice, drillHarp]);
  const world = {
    ...tunes,
    progress: services.progress,
    progressWork: services.progressWork,
    history: services.history,
    tunes: services.tunes,
    work: services.tuneWork,
    nowEpochMs: services.nowEpochMs,
    zone: services.zone,
  };
  const { view, swap, keep } = usePlan(world, {
    settings,
    onSettings,
    drills,
    isWanted: hasHarps && (room.kind === "today" || room.kind === "plan run"),
    version,
    onStart: (kept) => start(kept),
  });
  // A run lasts longer than a picture of the window: it asks for what holds by then.
  const now = useRef({ world, settings, swap });
  now.current = { world, settings, swap };
  const start = (kept: KeptPlan) => {
    const run = new PlanRun(kept, {
      exerciseOf: (part) => planExercise(part, now.current.world),
      newSession: (exercise, afterRound, how) => {
        const { settings: set } = now.current;
        return new PracticeSession(exercise, services, {
          ...set,
          ...(delayOf === undefined ? {} : { delayOf }),
          againAfterSeconds: set.againAfterSeconds || USUAL_PAUSE_SECONDS,
          afterRound,
          ...how,
        });
      },
      begins: () => now.current.settings.begin,
      swapped: (one, name) => now.current.swap(one, name),
      keep,
    });
    onEnter({ kind: "plan run", run });
    run.start();
  };
  return view;
}

/** What the player's drills are set to; the first choice on the same harp where that makes no sense. */
function drillSetting(choice: DrillChoice, harp: Harp): DrillSetting {
  for (const one of [choice, { ...FIRST_CHOICE, position: choice.position }]) {
    const read = specOfChoice({ ...one, kind: "scale" }, harp);
    if (read.kind === "impossible") continue;
    const { position, mode, abilities, tempo, countInBeats } = read.spec;
    return { harp, position, mode, abilities, tempo, countInBeats };
  }
  throw new Error("the first choice makes a drill on any harp");
}
