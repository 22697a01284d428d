import { reedsOfExercise } from "../../core/score/known-reeds.ts";
import { USUAL_SETTINGS } from "../../core/score/score-take.ts";
import { milliseconds, seconds } from "../../core/units.ts";
import type { PracticeServices } from "../practice/practice-services.ts";
import type { LongWork } from "../store/history-store.ts";
import type { RunningTakes } from "../store/running-take.ts";

export interface MarkLeftServices extends Pick<PracticeServices, "listenInWorker" | "marking" | "history"> {
  readonly runningTakes: Pick<RunningTakes, "takeOver">;
}

/**
 * Marks what was recorded of a take that was cut off, as it would have been marked, and keeps it as an attempt of the time it
 * was played at. Notes it did not get to are not measured: the recording ends before them.
 *
 * @returns the attempt's id; null where the take is gone, or another window has it
 */
export async function markLeftTake(
  { listenInWorker, marking, history, runningTakes }: MarkLeftServices,
  id: string,
  { onProgress, signal }: LongWork = {},
): Promise<string | null> {
  const left = await runningTakes.takeOver(id);
  if (left === null) return null;
  try {
    const { take, head } = left;
    const { exercise, way, latencyMs, beatZeroSeconds, atEpochMs, zone } = head;
    const listening = await listenInWorker(take.samples, take.sampleRateHz, {
      known: reedsOfExercise(exercise),
      ...(signal === undefined ? {} : { signal }),
      ...(onProgress === undefined ? {} : { onProgress }),
    });
    const attempt = await marking.mark(exercise, listening, {
      ...USUAL_SETTINGS,
      way,
      latencyMs: milliseconds(latencyMs),
      beatZeroSeconds: beatZeroSeconds === null ? null : seconds(beatZeroSeconds),
    });
    signal?.throwIfAborted();
    const entry = { atEpochMs, zone, source: "microphone" as const, exercise, attempt, take };
    return await history.save(entry, { running: id });
  } finally {
    left.leave();
  }
}
