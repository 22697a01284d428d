import { type TuneSteps, tuneSteps } from "../../core/exercise/tune-steps.ts";
import { studySetting } from "../../core/exercise/tune-study.ts";
import type { GlanceWorld } from "./glance-shape.ts";
import { readText } from "./read-text.ts";
import type { StepsOfTune } from "./tune-messages.ts";

/** Null where the text cannot be read. */
export function stepsOf({ abc, study, isFitted }: StepsOfTune, world: GlanceWorld): TuneSteps | null {
  const [read] = readText(abc, study.voice ?? null).tunes;
  return read === undefined ? null : tuneSteps(studySetting(read.tune, study, world), isFitted);
}
