import type { Exercise } from "../exercise/exercise.ts";
import { type Tuning, tuningOf } from "../exercise/retune.ts";
import type { Listening } from "../listen/listening.ts";
import type { Milliseconds } from "../units.ts";
import type { Attempt } from "./attempt.ts";
import { scoreTake } from "./score-take.ts";

/** What a take can be marked by once more. */
export interface MarkingSettings extends Tuning {
  /** Delay of the sound path, taken off every onset. */
  readonly latencyMs: Milliseconds;
}

/** What an attempt was marked by. */
export function markingOf(exercise: Exercise, attempt: Attempt): MarkingSettings {
  return { ...tuningOf(exercise), latencyMs: attempt.latencyMs };
}

/**
 * The marks of a kept take by other settings; way to play, tolerances and a known beat 0 stay.
 *
 * @param exercise  tuned as it is to be marked: `retune`
 * @param listening of the same take, told the reeds of that exercise
 */
export function markAgain(
  exercise: Exercise,
  kept: Pick<Attempt, "way" | "tolerances" | "start">,
  listening: Listening,
  latencyMs: Milliseconds,
): Attempt {
  const { way, tolerances, start } = kept;
  const beatZeroSeconds = start.source === "given" ? start.beatZeroSeconds : null;
  return scoreTake(exercise, listening, { way, tolerances, latencyMs, beatZeroSeconds });
}
