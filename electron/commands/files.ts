import { createReadStream } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { readExercise } from "../../core/exercise/exercise-json.ts";
import { readWav } from "../../core/listen/wav.ts";
import { Fault, parsed } from "../../core/reading/json-values.ts";
import { beyond, LIMITS, type Limit, moreThan } from "../../core/reading/limits.ts";
import { CommandError } from "./command-error.ts";

/** A take's samples, mono. */
export interface Take {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

/** @throws CommandError with one line naming the file and what is wrong with it */
export async function readTakeFile(path: string): Promise<Take> {
  const read = readWav(await readBytes(path, LIMITS.soundBytes));
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
  return readBytes(path, LIMITS.tuneFileBytes);
}

/** @throws CommandError with one line naming the file where it cannot be read or is no JSON */
export async function jsonFile(path: string): Promise<unknown> {
  try {
    return parsed(await readTextFile(path));
  } catch (error) {
    if (error instanceof Fault) throw new CommandError(`${path}: ${error.message}`);
    throw error;
  }
}

export async function readTextFile(path: string): Promise<string> {
  return new TextDecoder().decode(await readBytes(path, LIMITS.jsonBytes));
}

/** Never holds more than the limit: what a pipe or a device gives has no size beforehand. */
async function readBytes(path: string, limit: Limit): Promise<Uint8Array> {
  try {
    const about = await stat(path);
    if (about.isDirectory()) throw new CommandError(`${path}: is a folder, not a file`);
    if (about.size > limit.most) throw new CommandError(`${path}: the file has ${beyond(about.size, limit)}`);
    return about.isFile() ? await readFile(path) : await readStream(path, limit);
  } catch (error) {
    if (error instanceof CommandError) throw error;
    throw new CommandError(`${path}: ${fileTrouble(error, "cannot be read")}`);
  }
}

async function readStream(path: string, limit: Limit): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let bytes = 0;
  for await (const piece of createReadStream(path) as AsyncIterable<Uint8Array>) {
    bytes += piece.length;
    if (bytes > limit.most) throw new CommandError(`${path}: ${moreThan(limit)}`);
    pieces.push(piece);
  }
  return Buffer.concat(pieces);
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
