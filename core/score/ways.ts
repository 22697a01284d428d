import type { Exercise } from "../exercise/exercise.ts";
import type { Way } from "./attempt.ts";

/**
 * The ways an exercise can be played: what is called out comes on a beat and is hidden anyway, and only single notes
 * can be held.
 */
export function waysOf(exercise: Exercise): readonly Way[] {
  const held = exercise.kind === "long-tones" || exercise.kind === "bend";
  if (exercise.targetAs !== undefined) return ["in time"];
  return ["in time", "own pace", ...(held ? (["hold"] as const) : []), "echo"];
}

/** The way wanted where the exercise can be played so, else in time. */
export function wayFor(exercise: Exercise, wanted: Way): Way {
  return waysOf(exercise).includes(wanted) ? wanted : "in time";
}
