import type { Exercise } from "../../core/exercise/exercise.ts";
import { tuneExercise, usualRhythm } from "../../core/exercise/tune-exercise.ts";
import { USUAL_RULE } from "../../core/exercise/tune-ladder.ts";
import { planTune } from "../../core/exercise/tune-plan.ts";
import { EVERYTHING } from "../../core/instrument/reed-actions.ts";
import { FIRST_WEIGHTS } from "../../core/path/weights.ts";
import { readAbc } from "../../core/tune/abc/read-abc.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { bpm, ticks } from "../../core/units.ts";
import { harp } from "./harps.ts";

/** The first tune of an ABC text. */
export function readTune(abc: string): Tune {
  const read = readAbc(abc);
  if (read.kind !== "tunes" || read.tunes[0] === undefined) throw new Error(JSON.stringify(read));
  return read.tunes[0];
}

/** A whole tune as an exercise on a D harp, at so many of the tune's own beats a minute. */
export function tuneDrill(abc: string, beats?: number): Exercise {
  const tune = readTune(abc);
  const tempo = beats === undefined ? tune.tempo : { ...tune.tempo, bpm: bpm(beats) };
  const plan = planTune({
    tune,
    harps: [harp("D")],
    abilities: EVERYTHING,
    weights: FIRST_WEIGHTS,
    tempo,
    octaves: null,
    pins: [],
    even: false,
    phraseBars: 4,
    phrases: null,
    rule: USUAL_RULE,
  });
  const last = tune.bars.at(-1);
  const made = tuneExercise({
    tune,
    words: "whole tune",
    span: { startTicks: ticks(0), endTicks: ticks((last?.startTicks ?? 0) + (last?.lengthTicks ?? 0)) },
    harp: plan.harp,
    shift: plan.shift,
    actions: plan.path.actions,
    abilities: EVERYTHING,
    tempo,
    rhythm: usualRhythm(1),
    countInBeats: 4,
    times: 1,
  });
  if (made.kind === "impossible") throw new Error(made.reason);
  return made.exercise;
}
