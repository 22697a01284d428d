import type { Exercise } from "../exercise/exercise.ts";
import { type Tuning, tuningOf } from "../exercise/retune.ts";
import type { Milliseconds } from "../units.ts";
import type { Attempt } from "./attempt.ts";
import type { ScoreSettings } from "./score-take.ts";

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
 * What `scoreTake` needs to mark a kept take again, with the exercise tuned as it is to be marked (`retune`) and the take
 * listened to with the reeds of that exercise: way to play, tolerances and a known beat 0 stay.
 */
export function settingsAgain(
  { way, tolerances, start }: Pick<Attempt, "way" | "tolerances" | "start">,
  latencyMs: Milliseconds,
): ScoreSettings {
  const beatZeroSeconds = start.source === "given" ? start.beatZeroSeconds : null;
  return { way, tolerances, latencyMs, beatZeroSeconds };
}
