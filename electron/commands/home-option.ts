import type { Harp } from "../../core/instrument/harp.ts";
import { degreeSetOf, readDegrees } from "../../core/pitch/degrees.ts";
import { type Mode, readMode } from "../../core/pitch/modes.ts";
import { pitchClassOfName } from "../../core/pitch/note-names.ts";
import type { Arguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";

/** A home note as typed, or the key of the harp. @throws CommandError if it is not a note */
export function homeOption(args: Arguments, harp: Harp): string {
  const text = args.options.home;
  if (text === undefined) return harp.key;
  if (pitchClassOfName(text) === null)
    throw new CommandError(`--home "${text}" is not a note name, such as G, Bb or F#`);
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** The options that choose a mode, for every command that needs one. */
export const MODE_OPTIONS: readonly string[] = ["mode", "degrees"];

/**
 * The mode of `--mode` (a name, or degrees) or the set of `--degrees`; null where neither is said.
 *
 * @throws CommandError naming the word that is wrong
 */
export function modeOption(args: Arguments): Mode | null {
  const { mode, degrees } = args.options;
  if (mode !== undefined && degrees !== undefined)
    throw new CommandError("--mode and --degrees both say which notes: take one of them");
  if (degrees !== undefined) {
    const read = readDegrees(degrees);
    if (read.kind === "unreadable") throw new CommandError(`--degrees: ${read.reason}`);
    return degreeSetOf(read.degrees);
  }
  if (mode === undefined) return null;
  const read = readMode(mode);
  if (read.kind === "unreadable") throw new CommandError(`--mode ${read.reason}`);
  return read.mode;
}
