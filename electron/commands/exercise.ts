import type { Exercise } from "../../core/exercise/exercise.ts";
import { makeScaleDrill, type ScaleDrill } from "../../core/exercise/scale-drill.ts";
import { FASTEST, NOTE_VALUES, SLOWEST } from "../../core/exercise/tempo.ts";
import { type Harp, harpInKey, KEYS_BY_REGISTER } from "../../core/instrument/harp.ts";
import { naturalMode, positionName } from "../../core/instrument/positions.ts";
import { STOCK_LAYOUTS, stockLayout } from "../../core/instrument/stock-layouts.ts";
import { MODE_NAMES, type ModeName, modeOfName } from "../../core/pitch/modes.ts";
import { bpm, hz } from "../../core/units.ts";
import { type Arguments, choiceOption, fileWords, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import type { Io } from "./io.ts";

const OPTIONS = [
  "layout",
  "key",
  "position",
  "kind",
  "mode",
  "octaves",
  "direction",
  "start",
  "tempo",
  "note-value",
  "notes-per-beat",
  "count-in",
  "bends",
  "overbends",
  "a4",
];

/** Prints an exercise made from the options. */
export async function exercise(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, OPTIONS);
  fileWords(read, []);
  io.stdout(`${JSON.stringify(makeExercise(read), null, 2)}\n`);
}

function makeExercise(args: Arguments): Exercise {
  choiceOption(args, "kind", "scale", ["scale"]);
  const made = makeScaleDrill(drillOf(args));
  if (made.kind === "impossible") throw new CommandError(made.reason);
  return made.exercise;
}

function drillOf(args: Arguments): ScaleDrill {
  const position = numberOption(args, "position", 1, { low: 1, high: 12, whole: true });
  const yes = (name: string, usual: "yes" | "no") => choiceOption(args, name, usual, ["yes", "no"]) === "yes";
  return {
    harp: harpOf(args),
    position,
    mode: modeOf(args, position),
    octaves: numberOption(args, "octaves", 1, { low: 1, high: 2, whole: true }) as 1 | 2,
    direction: choiceOption(args, "direction", "both", ["up", "down", "both"]),
    start: choiceOption(args, "start", "easiest", ["easiest", "lowest"]),
    tempo: {
      bpm: bpm(numberOption(args, "tempo", 90, { low: SLOWEST, high: FASTEST })),
      noteValue: choiceOption(args, "note-value", "1/4", NOTE_VALUES),
    },
    notesPerBeat: numberOption(args, "notes-per-beat", 1, { low: 1, high: 4, whole: true }) as 1 | 2 | 3 | 4,
    countInBeats: numberOption(args, "count-in", 4, { low: 0, high: 16, whole: true }),
    abilities: { bends: yes("bends", "yes"), overbends: yes("overbends", "no") },
  };
}

function harpOf(args: Arguments): Harp {
  const id = args.options.layout ?? "standard";
  const layout = stockLayout(id);
  if (layout === null) {
    const known = STOCK_LAYOUTS.map((one) => one.id).join(", ");
    throw new CommandError(`--layout "${id}" is not known; there is ${known}`);
  }
  const key = args.options.key ?? "C";
  const harp = harpInKey(layout, key, hz(numberOption(args, "a4", 440, { low: 400, high: 480 })));
  if (harp === null)
    throw new CommandError(`--key "${key}" is not a key; there are ${KEYS_BY_REGISTER.join(", ")}`);
  return harp;
}

function modeOf(args: Arguments, position: number): ModeName {
  const text = args.options.mode;
  if (text === undefined) {
    const natural = naturalMode(position);
    if (natural === null) {
      throw new CommandError(
        `${positionName(position)} position has no natural mode: say --mode, one of ${MODE_NAMES.join(", ")}`,
      );
    }
    return natural;
  }
  const mode = modeOfName(text);
  if (mode === null)
    throw new CommandError(`--mode "${text}" is not known; there are ${MODE_NAMES.join(", ")}`);
  return mode;
}
