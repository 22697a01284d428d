import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import { toListenJson } from "../../core/listen/listen-json.ts";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import type { Listening } from "../../core/listen/listening.ts";
import { knownReeds } from "../../core/score/known-reeds.ts";
import { fileWords, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { readTakeFile } from "./files.ts";
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

/** Quieter than this nothing was recorded: the noise of a 16-bit converter peaks near -90 dBFS. */
const SILENCE_PEAK_DBFS = -80;

/** @throws CommandError if the file cannot be read or holds only silence */
export async function listenToFile(path: string, known: KnownReeds | null = null): Promise<Listening> {
  const take = await readTakeFile(path);
  const listening = listenToTake(take.samples, take.sampleRateHz, undefined, known);
  if (!(listening.peakDbfs > SILENCE_PEAK_DBFS)) {
    throw new CommandError(`${path}: only silence (loudest sample below ${SILENCE_PEAK_DBFS} dBFS)`);
  }
  return listening;
}
