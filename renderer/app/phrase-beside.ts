import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import {
  type OpenTune,
  planSetting,
  rungStretch,
  stretchExercise,
  type TuneRules,
} from "../tunes/tune-view.ts";
import type { TuneWork } from "../tunes/tune-work.ts";

interface PhraseWorld {
  readonly openTune: (id: string) => Promise<OpenTune | null>;
  readonly work: TuneWork;
  readonly abilities: Abilities;
  readonly rules: TuneRules;
}

/**
 * The stretch of the same kind after or before the one being practised: phrase after phrase, strain after strain, on the
 * same harp. Null where there is none, and for what is no rung of a tune's ladder.
 */
export async function phraseBeside(
  exercise: Exercise,
  step: 1 | -1,
  { openTune, work, abilities, rules }: PhraseWorld,
): Promise<Exercise | null> {
  const { tuneId, rung: id } = exercise.parameters;
  if (exercise.kind !== "tune" || typeof tuneId !== "string" || typeof id !== "string") return null;
  const open = await openTune(tuneId);
  if (open === null) return null;
  const plan = await work.plan(planSetting(open, [exercise.harp], abilities, rules));
  const now = plan.ladder.find((rung) => rung.id === id);
  if (now === undefined) return null;
  const alike = plan.ladder.filter(
    ({ kind, tempoShare }) => kind === now.kind && tempoShare === now.tempoShare,
  );
  const beside = alike[alike.indexOf(now) + step];
  if (beside === undefined) return null;
  const made = stretchExercise(open, plan, abilities, rungStretch(beside));
  return made.kind === "exercise" ? made.exercise : null;
}
