import { WAYS } from "../../core/score/attempt.ts";
import { knownReeds } from "../../core/score/known-reeds.ts";
import { scoreTake, USUAL_SETTINGS } from "../../core/score/score-take.ts";
import { milliseconds, seconds } from "../../core/units.ts";
import { choiceOption, fileWords, numberOption, readArguments } from "./arguments.ts";
import { readExerciseFile } from "./files.ts";
import type { Io } from "./io.ts";
import { listenToFile } from "./listen.ts";

/** Prints the marks of a take against its exercise. */
export async function score(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, ["latency-ms", "start-seconds", "way"]);
  const [exercisePath = "", takePath = ""] = fileWords(read, ["EXERCISE.json", "TAKE.wav"]);
  const latencyMs = milliseconds(numberOption(read, "latency-ms", 0, { low: -5000, high: 5000 }));
  const given = read.options["start-seconds"] !== undefined;
  const start = numberOption(read, "start-seconds", 0, { low: -3600, high: 36_000 });
  const written = WAYS.map((way) => way.replace(" ", "-"));
  const chosen = choiceOption(read, "way", "in-time", written);
  const way = WAYS.find((one) => one.replace(" ", "-") === chosen) ?? "in time";
  const exercise = await readExerciseFile(exercisePath);
  const listening = await listenToFile(takePath, knownReeds(exercise.harp));
  const attempt = scoreTake(exercise, listening, {
    ...USUAL_SETTINGS,
    way,
    latencyMs,
    beatZeroSeconds: given ? seconds(start) : null,
  });
  io.stdout(`${JSON.stringify(attempt, null, 2)}\n`);
}
