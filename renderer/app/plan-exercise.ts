import type { MadeExercise } from "../../core/exercise/drill-spec.ts";
import { makeDrill } from "../../core/exercise/make-drill.ts";
import type { PlanPart } from "../../core/progress/plan/plan-shape.ts";
import type { HistoryStore } from "../store/history-store.ts";
import { type OpenTune, planSetting, rungStretch, stretchExercise } from "../tunes/tune-view.ts";
import type { TuneWork } from "../tunes/tune-work.ts";
import type { PlanTuneWorld } from "./plan-tunes.ts";

export interface ExerciseWorld extends Pick<PlanTuneWorld, "harps" | "abilities" | "rules"> {
  readonly openTune: (id: string) => Promise<OpenTune | null>;
  readonly work: Pick<TuneWork, "plan">;
  readonly history: Pick<HistoryStore, "open">;
}

const impossible = (reason: string): MadeExercise => ({ kind: "impossible", reason });

/** What a part of a plan plays, by the makers everything else is made by. */
export async function planExercise({ recipe }: PlanPart, world: ExerciseWorld): Promise<MadeExercise> {
  switch (recipe.kind) {
    case "drill":
      return makeDrill(recipe.spec);
    case "attempt": {
      const entry = await world.history.open(recipe.id);
      return entry === null
        ? impossible("that attempt is no longer in the history")
        : { kind: "exercise", exercise: entry.exercise };
    }
    case "tune":
      return rungExercise(recipe.tuneId, recipe.rung, world);
  }
}

async function rungExercise(tuneId: string, id: string, world: ExerciseWorld): Promise<MadeExercise> {
  const { openTune, work, harps, abilities, rules } = world;
  const open = await openTune(tuneId);
  if (open === null) return impossible("that tune is no longer here");
  const plan = await work.plan(planSetting(open, harps, abilities, rules));
  const rung = plan.ladder.find((one) => one.id === id);
  if (rung === undefined) return impossible("its phrases were changed since");
  return stretchExercise(open, plan, abilities, rungStretch(rung));
}
