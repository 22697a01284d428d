import type { TabledAttempt } from "../../core/archive/history-table.ts";
import { checkExercise } from "../../core/exercise/exercise-json.ts";
import { readAttempt } from "../../core/score/attempt-versions.ts";
import { readArchiveFile } from "./archive-file.ts";
import { CommandError } from "./command-error.ts";

/**
 * The attempts of an archive, by id; no take is held.
 *
 * @throws CommandError where the archive is refused, and, once all others were given, with status 1 where some cannot be read
 */
export async function* keptAttempts(path: string): AsyncGenerator<TabledAttempt> {
  let unreadable = 0;
  for await (const event of readArchiveFile(path)) {
    if (event.kind === "fault") unreadable += 1;
    if (event.kind !== "record" || event.record.kind !== "attempt") continue;
    yield attemptOf(event.record.id, event.record.value as Omit<TabledAttempt, "id">);
  }
  if (unreadable > 0) {
    throw new CommandError(
      `${unreadable} of its records cannot be read; "archive" names them by line and field`,
      1,
    );
  }
}

/** As of the present versions; the reader has looked it through. */
function attemptOf(id: string, value: Omit<TabledAttempt, "id">): TabledAttempt {
  const exercise = checkExercise(value.exercise);
  const attempt = readAttempt(value.attempt);
  if (exercise.kind === "unreadable") throw new Error(exercise.reason);
  if (attempt.kind === "unreadable") throw new Error(attempt.reason);
  return { ...value, id, exercise: exercise.exercise, attempt: attempt.attempt };
}
