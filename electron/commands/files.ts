import { readFile, stat } from "node:fs/promises";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { readExercise } from "../../core/exercise/exercise-json.ts";
import { readWav } from "../../core/listen/wav.ts";
import { CommandError } from "./command-error.ts";

/** An hour of 32-bit float stereo at 96 kHz is 2.8 GB; a take for marking is minutes. */
const MOST_TAKE_BYTES = 1_000_000_000;
const MOST_JSON_BYTES = 20_000_000;
/** What the readers take at most, and no less: they have bounds of their own, which their messages name. */
const MOST_TUNE_BYTES = 100_000_000;

/** A take's samples, mono. */
export interface Take {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

/** @throws CommandError with one line naming the file and what is wrong with it */
export async function readTakeFile(path: string): Promise<Take> {
  const read = readWav(await readBytes(path, MOST_TAKE_BYTES));
  if (read.kind === "unreadable") throw new CommandError(`${path}: ${read.reason}`);
  return { samples: read.samples, sampleRateHz: read.sampleRateHz };
}

/** @throws CommandError with one line naming the file and what is wrong with it */
export async function readExerciseFile(path: string): Promise<Exercise> {
  const read = readExercise(await readTextFile(path));
  if (read.kind === "unreadable") throw new CommandError(`${path}: ${read.reason}`);
  return read.exercise;
}

/** @throws CommandError with one line naming the file and what is wrong with it */
export async function readTuneBytes(path: string): Promise<Uint8Array> {
  return readBytes(path, MOST_TUNE_BYTES);
}

export async function readTextFile(path: string): Promise<string> {
  return new TextDecoder().decode(await readBytes(path, MOST_JSON_BYTES));
}

async function readBytes(path: string, most: number): Promise<Uint8Array> {
  try {
    const about = await stat(path);
    if (about.isDirectory()) throw new CommandError(`${path}: is a folder, not a file`);
    if (about.size > most) {
      throw new CommandError(`${path}: ${about.size} bytes is more than the ${most} this command reads`);
    }
    return await readFile(path);
  } catch (error) {
    if (error instanceof CommandError) throw error;
    throw new CommandError(`${path}: ${fileTrouble(error, "cannot be read")}`);
  }
}

const TROUBLES: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file",
  EACCES: "may not be opened",
  ENOTDIR: "there is no such file",
  ENOSPC: "the disk is full",
  EROFS: "the disk is read-only",
  EISDIR: "is a folder, not a file",
};

/** A file system error in plain words. */
export function fileTrouble(error: unknown, otherwise: string): string {
  const code = (error as { code?: string } | null)?.code ?? "";
  return TROUBLES[code] ?? `${otherwise}${code === "" ? "" : ` (${code})`}`;
}
