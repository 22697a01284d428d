import type { MadeExercise } from "../../core/exercise/drill-spec.ts";
import {
  ownTempo,
  rungStretch,
  type Stretch,
  stretchExercise as stretchOnHarp,
} from "../../core/exercise/stretch-exercise.ts";
import { tuneExercise, usualRhythm, usualSwing } from "../../core/exercise/tune-exercise.ts";
import { type LadderRule, USUAL_RULE } from "../../core/exercise/tune-ladder.ts";
import type { TunePlan, TunePlanSetting } from "../../core/exercise/tune-plan.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Abilities, ReedAction } from "../../core/instrument/reed-actions.ts";
import { FIRST_WEIGHTS, readWeights, type Weights } from "../../core/path/weights.ts";
import { onceThrough } from "../../core/tune/once-through.ts";
import { PHRASE_BARS, type PhraseBars, type Span } from "../../core/tune/phrases.ts";
import type { Tempo } from "../../core/tune/tempo.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { bpm, milliseconds } from "../../core/units.ts";
import type { Settings } from "../store/settings-store.ts";
import type { TuneStudy } from "../store/tune-store.ts";

export { rungStretch };

/** What holds for every tune. */
export interface TuneRules {
  readonly ladder: LadderRule;
  readonly weights: Weights;
}

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

/** Bars of a phrase where nothing is chosen. */
const USUAL_PHRASE_BARS: PhraseBars = 4;

export const swingOf = ({ tune, study }: OpenTune): number => study.swing ?? usualSwing(tune.dance);

/** The tempo the ladder leads to, in the note value the metre is felt in. */
export function danceTempo({ tune, study }: OpenTune): Tempo {
  const own = ownTempo(tune);
  return study.danceBpm === undefined ? own : { ...own, bpm: bpm(study.danceBpm) };
}

export const phraseBarsOf = (study: TuneStudy): PhraseBars =>
  PHRASE_BARS.find((bars) => bars === study.phraseBars) ?? USUAL_PHRASE_BARS;

/** What the path finder is asked: the harp chosen for the tune, else the best of those there are. */
export function planSetting(
  open: OpenTune,
  harps: readonly Harp[],
  abilities: Abilities,
  { ladder, weights }: TuneRules,
): TunePlanSetting {
  const { tune, study } = open;
  return {
    tune,
    harps: study.harp === undefined ? harps : [study.harp],
    abilities,
    weights,
    tempo: danceTempo(open),
    octaves: study.octaves ?? null,
    pins: study.pins ?? [],
    even: study.even ?? false,
    phraseBars: phraseBarsOf(study),
    phrases: study.phrases === undefined || study.phrases.length === 0 ? null : study.phrases,
    rule: ladder,
  };
}

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
