import type { MadeExercise } from "../../core/exercise/drill-spec.ts";
import {
  rungStretch,
  type Stretch,
  stretchExercise as stretchOnHarp,
} from "../../core/exercise/stretch-exercise.ts";
import { tuneExercise, usualRhythm, usualSwing } from "../../core/exercise/tune-exercise.ts";
import { USUAL_RULE } from "../../core/exercise/tune-ladder.ts";
import type { TunePlan, TunePlanSetting } from "../../core/exercise/tune-plan.ts";
import { danceTempoOf, phraseBarsOf, studySetting, type TuneRules } from "../../core/exercise/tune-study.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Abilities, ReedAction } from "../../core/instrument/reed-actions.ts";
import { FIRST_WEIGHTS, readWeights } from "../../core/path/weights.ts";
import { onceThrough } from "../../core/tune/once-through.ts";
import type { Span } from "../../core/tune/phrases.ts";
import type { Tempo } from "../../core/tune/tempo.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { milliseconds } from "../../core/units.ts";
import type { Settings } from "../store/settings-store.ts";
import type { TuneStudy } from "../store/tune-store.ts";

export { phraseBarsOf, rungStretch, type TuneRules };

/** The rules of the settings; weights that make no sense have their first values. */
export function rulesOf({ ladder, pathWeights }: Pick<Settings, "ladder" | "pathWeights">): TuneRules {
  const read = readWeights(pathWeights ?? {});
  const { rightShare, spreadMs, inARow } = ladder;
  return {
    ladder: { ...USUAL_RULE, rightShare, inARow, spreadMs: milliseconds(spreadMs) },
    weights: read.kind === "weights" ? read.weights : FIRST_WEIGHTS,
  };
}

/** An open tune: what it is, and what was set for it. */
export interface OpenTune {
  readonly id: string;
  readonly tune: Tune;
  readonly abc: string;
  readonly voices: readonly string[];
  readonly study: TuneStudy;
}

export const swingOf = ({ tune, study }: OpenTune): number => study.swing ?? usualSwing(tune.dance);

/** The tempo the ladder leads to, in the note value the metre is felt in. */
export const danceTempo = ({ tune, study }: OpenTune): Tempo => danceTempoOf(tune, study);

/** What the path finder is asked: the harp chosen for the tune, else the best of those there are. */
export const planSetting = (
  { tune, study }: OpenTune,
  harps: readonly Harp[],
  abilities: Abilities,
  rules: TuneRules,
): TunePlanSetting => studySetting(tune, study, { harps, abilities, rules });

/** A stretch of the tune as an exercise on its path. */
export const stretchExercise = (
  open: OpenTune,
  plan: TunePlan,
  abilities: Abilities,
  stretch: Stretch,
): MadeExercise =>
  stretchOnHarp(
    { tuneId: open.id, tune: open.tune, plan, abilities, dance: danceTempo(open), swing: swingOf(open) },
    stretch,
  );

/** The tune as it stands on the page, each written bar once, even, with its path: for the sheet. */
export function sheetExercise(open: OpenTune, plan: TunePlan, abilities: Abilities): MadeExercise {
  const { tune, from } = onceThrough(open.tune);
  const end = tune.bars.reduce((latest, bar) => Math.max(latest, bar.startTicks + bar.lengthTicks), 0);
  const actions: (ReedAction | null)[] = from.map((place) => plan.path.actions[place] ?? null);
  return tuneExercise({
    tune,
    words: "whole tune",
    span: { startTicks: 0 as Span["startTicks"], endTicks: end as Span["endTicks"] },
    harp: plan.harp,
    shift: plan.shift,
    actions,
    abilities,
    tempo: danceTempo(open),
    rhythm: usualRhythm(1),
    countInBeats: 0,
    times: 1,
  });
}
