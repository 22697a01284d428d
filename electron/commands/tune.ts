import { fileWords, readArguments } from "./arguments.ts";
import type { Io } from "./io.ts";
import { readTuneFile, TUNE_OPTIONS, tuneOf } from "./tune-files.ts";
import { tuneToJson } from "./tune-json.ts";

/** Prints the notes of a tune of an ABC, MusicXML or MIDI file, in playing order. */
export async function tune(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, TUNE_OPTIONS);
  const [path = ""] = fileWords(read, ["FILE"]);
  const file = await readTuneFile(path, read);
  io.stdout(`${JSON.stringify(tuneToJson(file, tuneOf(file, read)), null, 2)}\n`);
}
