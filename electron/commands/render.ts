import type { Exercise } from "../../core/exercise/exercise.ts";
import { writeWav } from "../../core/listen/wav.ts";
import { type Plant, readPlants } from "../../core/simulate/plants.ts";
import { type SimulatedTake, simulateTake } from "../../core/simulate/simulated-take.ts";
import { writeWhole } from "../write-whole.ts";
import { fileWords, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { fileTrouble, readExerciseFile, readTextFile } from "./files.ts";
import type { Io } from "./io.ts";

export const TRUTH_SCHEMA = "reedpath.truth";

/** Writes the simulated player's take and prints what was played. */
export async function render(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, ["seed", "plant", "rate"]);
  const [exercisePath = "", outPath = ""] = fileWords(read, ["EXERCISE.json", "OUT.wav"]);
  const seed = numberOption(read, "seed", 1, { low: 0, high: 2 ** 32 - 1, whole: true });
  const sampleRateHz = numberOption(read, "rate", 48_000, { low: 22_050, high: 96_000, whole: true });
  const exercise = await readExerciseFile(exercisePath);
  const plantPath = read.options.plant;
  const plants = plantPath === undefined ? [] : await readPlantFile(plantPath, exercise);
  const take = simulateTake(exercise, { seed, plants, sampleRateHz });
  try {
    await writeWhole(outPath, writeWav(take.samples, sampleRateHz, "float32"));
  } catch (error) {
    throw new CommandError(`${outPath}: ${fileTrouble(error, "cannot be written")}`);
  }
  io.stdout(`${JSON.stringify(truthOf(seed, plants, take), null, 2)}\n`);
}

async function readPlantFile(path: string, exercise: Exercise): Promise<readonly Plant[]> {
  const read = readPlants(await readTextFile(path), exercise);
  if (read.kind === "unreadable") throw new CommandError(`${path}: ${read.reason}`);
  return read.plants;
}

function truthOf(seed: number, plants: readonly Plant[], take: SimulatedTake) {
  return {
    schema: TRUTH_SCHEMA,
    version: 1,
    simulated: true,
    seed,
    sampleRateHz: take.sampleRateHz,
    faults: plants,
    notes: take.played.map((note) => ({
      index: note.index,
      on: note.onSeconds,
      off: note.offSeconds,
      midi: Math.round(note.midi),
      cents: (note.midi - Math.round(note.midi)) * 100,
    })),
  };
}
