import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { countInSeconds, type Exercise } from "../../core/exercise/exercise.ts";
import { seededRandom } from "../../core/exercise/seeded-random.ts";
import { readWav, writeWav } from "../../core/listen/wav.ts";
import {
  choosePlants,
  PLANT_SCHEMA,
  PLANT_VERSION,
  type Plant,
  readPlants,
} from "../../core/simulate/plants.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";

/**
 * A recording for the fake microphone. The file begins to play when the microphone is opened, while the program
 * begins its count-in a little later; both wait out the count-in, so the notes come early by that little.
 */
export interface MicrophoneTake {
  readonly wavPath: string;
  readonly plants: readonly Plant[];
  /** As the file holds them. */
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

const RATE_HZ = 44_100; // the fake device's own rate

export function microphoneTake(exercise: Exercise, seed: number, withMistakes: boolean): MicrophoneTake {
  return takeOf(exercise, seed, withMistakes ? choosePlants(exercise, seededRandom(seed)) : []);
}

/** A recording with these mistakes; a wrong note without its pitch is that of the hole above. */
export function plantedTake(
  exercise: Exercise,
  seed: number,
  faults: readonly { readonly kind: "wrong"; readonly index: number }[],
): MicrophoneTake {
  const read = readPlants(JSON.stringify({ schema: PLANT_SCHEMA, version: PLANT_VERSION, faults }), exercise);
  if (read.kind === "unreadable") throw new Error(read.reason);
  return takeOf(exercise, seed, read.plants);
}

function takeOf(exercise: Exercise, seed: number, plants: readonly Plant[]): MicrophoneTake {
  const { samples } = simulateTake(exercise, { seed, plants, sampleRateHz: RATE_HZ });
  const wavPath = path.join(mkdtempSync(path.join(tmpdir(), "reedpath-")), "take.wav");
  const bytes = writeWav(samples, RATE_HZ, "pcm16");
  writeFileSync(wavPath, bytes);
  const file = readWav(bytes);
  if (file.kind === "unreadable") throw new Error(file.reason);
  return { wavPath, plants, samples: file.samples, sampleRateHz: RATE_HZ };
}

/** How long a run of the exercise takes from pressing Start, in milliseconds, with room for a slow machine. */
export function runMs(exercise: Exercise): number {
  const last = exercise.notes.at(-1);
  const beats = last === undefined ? 0 : last.startBeats + last.lengthBeats;
  return 1000 * (countInSeconds(exercise) + (beats * 60) / exercise.tempo.bpm) + 20_000;
}
