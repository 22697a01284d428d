import { BREATH_CAUTION } from "./caution.ts";
import type { DrillSpec, MadeExercise, Running } from "./drill-spec.ts";
import { barOf, layOut, nextBar, type Placed, runOn } from "./lay-out.ts";
import type { Reach, Step } from "./reach.ts";

/** Passes of breath work, each followed by a rest at least as long and begun on a bar line. */
export function layOutPasses(
  spec: DrillSpec & Running,
  reach: Reach,
  words: { readonly title: string; readonly trains: string },
  passes: readonly (readonly Step[])[],
): MadeExercise {
  const placed: Placed[] = [];
  let at = 0;
  for (const steps of passes) {
    placed.push(...runOn(steps, spec.notesPerBeat, at));
    at = nextBar(at + (2 * steps.length) / spec.notesPerBeat, barOf(spec));
  }
  return layOut(spec, reach, { ...words, placed, running: spec, caution: BREATH_CAUTION });
}
