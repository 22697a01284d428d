import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import { toListenJson } from "../../core/listen/listen-json.ts";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import type { Listening } from "../../core/listen/listening.ts";
import { isSilence, SILENCE_PEAK_DBFS } from "../../core/listen/take-limits.ts";
import { knownReeds } from "../../core/score/known-reeds.ts";
import { fileWords, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { readTakeFile, type Take } from "./files.ts";
import { HARP_OPTIONS, harpOption } from "./harp-option.ts";
import type { Io } from "./io.ts";

/** Prints the pitch frames and heard notes of a take, of a harp that is known or of any. */
export async function listen(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, HARP_OPTIONS);
  const [path = ""] = fileWords(read, ["TAKE.wav"]);
  const told = HARP_OPTIONS.some((name) => read.options[name] !== undefined);
  const known = told ? knownReeds(await harpOption(read)) : null;
  io.stdout(`${JSON.stringify(toListenJson(await listenToFile(path, known)))}\n`);
}

/** @throws CommandError if the file cannot be read or holds only silence */
export async function listenToFile(path: string, known: KnownReeds | null = null): Promise<Listening> {
  return listenToSound(path, await readTakeFile(path), known);
}

/** @throws CommandError if it holds only silence */
export function listenToSound(path: string, take: Take, known: KnownReeds | null): Listening {
  const listening = listenToTake(take.samples, take.sampleRateHz, undefined, known);
  if (isSilence(listening.peakDbfs)) {
    throw new CommandError(`${path}: only silence (loudest sample below ${SILENCE_PEAK_DBFS} dBFS)`);
  }
  return listening;
}
