import { beats } from "../units.ts";
import { BREATH_CAUTION, LONGEST_ROUND_SECONDS } from "./caution.ts";
import type { DrillSpec, MadeExercise, Running } from "./drill-spec.ts";
import { barOf, impossible, layOut, nextBar, type Placed, runOn } from "./lay-out.ts";
import type { Reach, Step } from "./reach.ts";
import { beatsToSeconds } from "./tempo.ts";

/** Seconds that running notes take. */
export function passSeconds(spec: DrillSpec & Running, notes: number): number {
  return beatsToSeconds(beats(notes / spec.notesPerBeat), spec.tempo);
}

/** Passes of breath work, each followed by a rest at least as long and begun on a bar line. */
export function layOutPasses(
  spec: DrillSpec & Running,
  reach: Reach,
  words: { readonly title: string; readonly trains: string },
  passes: readonly (readonly Step[])[],
): MadeExercise {
  const longest = passSeconds(spec, Math.max(...passes.map((steps) => steps.length)));
  if (longest > LONGEST_ROUND_SECONDS) {
    return impossible(
      `a pass would last ${Math.round(longest)} s; hard breathing needs a rest after ${LONGEST_ROUND_SECONDS} s: take a faster tempo or more notes to the beat`,
    );
  }
  const placed: Placed[] = [];
  let at = 0;
  for (const steps of passes) {
    placed.push(...runOn(steps, spec.notesPerBeat, at));
    at = nextBar(at + (2 * steps.length) / spec.notesPerBeat, barOf(spec));
  }
  return layOut(spec, reach, { ...words, placed, running: spec, caution: BREATH_CAUTION });
}
