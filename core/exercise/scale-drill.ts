import { tab } from "../instrument/tab.ts";
import { checkSetting } from "./check-setting.ts";
import type { DrillSpec, MadeExercise, ScaleDrill } from "./drill-spec.ts";
import {
  DIRECTION_WORDS,
  explainMissing,
  findStretch,
  inDirection,
  ladderOf,
  octavesInWords,
  unknownDegree,
} from "./ladder.ts";
import { impossible, layOut, runOn } from "./lay-out.ts";
import { homeAndMode, inPosition, type Reach, reachOf, type Step } from "./reach.ts";

export type { Direction, MadeExercise, ScaleDrill, Start } from "./drill-spec.ts";

/** A scale in a position, as a player practises it. */
export function scaleDrill(spec: DrillSpec & { kind: "scale" }): MadeExercise {
  const reach = reachOf(spec);
  const unknown = unknownDegree(reach, spec.fromDegree);
  if (unknown !== null) return impossible(unknown);
  const found = findStretch(ladderOf(reach), spec);
  if (found.kind === "missing") {
    return impossible(explainMissing(reach, `${rangeInWords(spec)} of ${homeAndMode(reach)}`, found.notes));
  }
  const range = rangeInWords(spec);
  return layOut(spec, reach, {
    title: `${homeAndMode(reach)} scale, ${range}, ${DIRECTION_WORDS[spec.direction]}`,
    trains: describePath(reach, found.steps),
    placed: runOn(inDirection(found.steps, spec.direction), spec.notesPerBeat),
    running: spec,
  });
}

/** "one octave", "two octaves from 5". */
export function rangeInWords(range: Pick<ScaleDrill, "octaves" | "fromDegree">): string {
  const from = range.fromDegree === undefined || range.fromDegree === "1" ? "" : ` from ${range.fromDegree}`;
  return octavesInWords(range.octaves) + from;
}

function describePath(reach: Reach, steps: readonly Step[]): string {
  const path = `The breath path of ${homeAndMode(reach)} ${inPosition(reach)}`;
  return `${path}, ${bendsInWords(steps)}.`;
}

/** "all plain notes", or the tab of what has to be bent or overblown. */
export function bendsInWords(steps: readonly Step[]): string {
  const bent = steps.filter((step) => step.action.technique !== "plain").map((step) => tab(step.action));
  const each = [...new Set(bent)];
  return each.length === 0 ? "all plain notes" : `with ${each.join(" and ")} in tune`;
}

/** `makeDrill` for a scale. */
export function makeScaleDrill(drill: ScaleDrill): MadeExercise {
  const spec = { kind: "scale", ...drill } as const;
  const reason = checkSetting(spec);
  return reason === null ? scaleDrill(spec) : impossible(reason);
}
