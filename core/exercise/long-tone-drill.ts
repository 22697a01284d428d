import { BREATH_CAUTION } from "./caution.ts";
import { outside } from "./check-setting.ts";
import type { DrillSpec, MadeExercise } from "./drill-spec.ts";
import {
  DIRECTION_WORDS,
  explainMissing,
  findStretch,
  inDirection,
  ladderOf,
  unknownDegree,
} from "./ladder.ts";
import { barOf, impossible, layOut, nextBar, type Placed } from "./lay-out.ts";
import { homeAndMode, inPosition, reachOf } from "./reach.ts";
import { bendsInWords, rangeInWords } from "./scale-drill.ts";

/** Every note of the scale held, each from a bar line. */
export function longToneDrill(spec: DrillSpec & { kind: "long-tones" }): MadeExercise {
  const reach = reachOf(spec);
  const reason =
    unknownDegree(reach, spec.fromDegree) ??
    outside("the length of a tone", spec.toneBeats, 1, 16, false) ??
    outside("the rest", spec.restBeats, 0, 16, false);
  if (reason !== null) return impossible(reason);
  const found = findStretch(ladderOf(reach), spec);
  const what = `${rangeInWords(spec)} of ${homeAndMode(reach)}`;
  if (found.kind === "missing") return impossible(explainMissing(reach, what, found.notes));
  const period = nextBar(spec.toneBeats + spec.restBeats, barOf(spec));
  const placed: readonly Placed[] = inDirection(found.steps, spec.direction).map((step, place) => ({
    step,
    startBeats: place * period,
    lengthBeats: spec.toneBeats,
  }));
  return layOut(spec, reach, {
    title: `Long tones, ${what}, ${DIRECTION_WORDS[spec.direction]}`,
    trains: `Starting each note of ${homeAndMode(reach)} ${inPosition(reach)} clearly and holding it steady and in tune, ${bendsInWords(found.steps)}.`,
    placed,
    caution: BREATH_CAUTION,
  });
}
