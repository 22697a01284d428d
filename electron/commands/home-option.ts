import type { Harp } from "../../core/instrument/harp.ts";
import { degreesOn, type HomeScale, modeOn } from "../../core/instrument/scale-report.ts";
import { degreesOfText, MODE_NAMES, modeOfName } from "../../core/pitch/modes.ts";
import { pitchClass, pitchClassOfName } from "../../core/pitch/note-names.ts";
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

/** How `--mode` puts degrees on a home note: by the name of a mode, or as degrees ("1 b3 4 5 b7"). */
export interface ModeChoice {
  readonly name: string;
  readonly on: (home: number, homeName: string) => HomeScale;
}

/** @throws CommandError if the text is neither a mode nor degrees */
export function modeChoice(text: string): ModeChoice {
  const mode = modeOfName(text);
  if (mode !== null) return { name: mode, on: (home, homeName) => modeOn(pitchClass(home), mode, homeName) };
  const degrees = degreesOfText(text);
  if (degrees === null) {
    throw new CommandError(
      `--mode "${text}" is not known; there are ${MODE_NAMES.join(", ")}, or degrees such as "1 b3 4 5 b7"`,
    );
  }
  const name = degrees.map((degree) => degree.name).join(" ");
  return { name, on: (home, homeName) => degreesOn(pitchClass(home), degrees, homeName) };
}
