import type { Exercise } from "../../core/exercise/exercise.ts";
import { retune, tuningOf } from "../../core/exercise/retune.ts";
import { whyTooLong } from "../../core/listen/take-limits.ts";
import { type Attempt, WAYS } from "../../core/score/attempt.ts";
import { toCsv } from "../../core/score/csv.ts";
import { reedsOfExercise } from "../../core/score/known-reeds.ts";
import { marksTable } from "../../core/score/marks-table.ts";
import { type ScoreSettings, scoreTake, USUAL_SETTINGS } from "../../core/score/score-take.ts";
import { hz, milliseconds, seconds } from "../../core/units.ts";
import { readMeasured } from "../../core/workshop/measure/measured-json.ts";
import { type Arguments, choiceOption, fileWords, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { readExerciseFile, readTakeFile, readTextFile } from "./files.ts";
import { temperamentOption } from "./harp-option.ts";
import type { Io } from "./io.ts";
import { listenToSound } from "./listen.ts";
import { isFolder, scoreMany } from "./score-many.ts";

/** Prints the marks of one or many takes against their exercise, which may be taken to be tuned otherwise. */
export async function score(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, [
    "latency-ms",
    "start-seconds",
    "way",
    "a4",
    "temperament",
    "reeds",
    "as",
  ]);
  const [exercisePath = "", ...takes] = read.words;
  const [takePath = ""] = takes;
  if (takes.length === 0) fileWords(read, ["EXERCISE.json", "TAKE.wav…"]);
  const latencyMs = milliseconds(numberOption(read, "latency-ms", 0, { low: -5000, high: 5000 }));
  const given = read.options["start-seconds"] !== undefined;
  const start = numberOption(read, "start-seconds", 0, { low: -3600, high: 36_000 });
  const written = WAYS.map((way) => way.replace(" ", "-"));
  const chosen = choiceOption(read, "way", "in-time", written);
  const way = WAYS.find((one) => one.replace(" ", "-") === chosen) ?? "in time";
  const as = choiceOption(read, "as", "json", ["json", "csv"]);
  const exercise = await withReeds(await retuned(await readExerciseFile(exercisePath), read), read);
  const settings = { ...USUAL_SETTINGS, way, latencyMs, beatZeroSeconds: given ? seconds(start) : null };
  const mark = (file: string) => markFile(file, exercise, settings);
  if (takes.length > 1 || (await isFolder(takePath))) return scoreMany(takes, mark, as, io);
  const attempt = await mark(takePath);
  io.stdout(as === "csv" ? toCsv(marksTable(exercise, attempt)) : `${JSON.stringify(attempt, null, 2)}\n`);
}

/** @throws CommandError if the file cannot be read, is too long or holds only silence */
async function markFile(file: string, exercise: Exercise, settings: ScoreSettings): Promise<Attempt> {
  const take = await readTakeFile(file);
  const tooLong = whyTooLong(take.samples.length, take.sampleRateHz);
  if (tooLong !== null) throw new CommandError(`${file}: ${tooLong}`);
  return scoreTake(exercise, listenToSound(file, take, reedsOfExercise(exercise)), settings);
}

/** The exercise on a harp tuned as `--a4` and `--temperament` say; as it is where they say nothing. */
async function retuned(exercise: Exercise, args: Arguments): Promise<Exercise> {
  const { a4, temperament } = tuningOf(exercise);
  return retune(exercise, {
    a4: hz(numberOption(args, "a4", a4, { low: 400, high: 480 })),
    temperament:
      args.options.temperament === undefined
        ? temperament
        : await temperamentOption(args, exercise.harp.layout),
  });
}

/** The exercise on the harp as `--reeds` measured it: each reed's own offset is taken off; as it is where nothing is said. */
async function withReeds(exercise: Exercise, { options: { reeds } }: Arguments): Promise<Exercise> {
  if (reeds === undefined) return exercise;
  const read = readMeasured(await readTextFile(reeds), exercise.harp);
  if (read.kind === "unreadable") throw new CommandError(`${reeds}: ${read.reason}`);
  return { ...exercise, harp: { ...exercise.harp, reedOffsets: read.offsets } };
}
