import { backingOfTune } from "../../core/exercise/backing-of-tune.ts";
import type { DrillKind, DrillSetting } from "../../core/exercise/drill-spec.ts";
import { DRILL_KINDS } from "../../core/exercise/exercise.ts";
import { makeDrill } from "../../core/exercise/make-drill.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import { naturalModeOf } from "../../core/instrument/position-report.ts";
import { positionName } from "../../core/instrument/positions.ts";
import { MODE_NAMES, type Mode } from "../../core/pitch/modes.ts";
import { FASTEST, NOTE_VALUES, SLOWEST } from "../../core/tune/tempo.ts";
import { bpm } from "../../core/units.ts";
import { type Arguments, choiceOption, fileWords, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { drillOfKind, EVERY_KIND_OPTION, optionsOfKind } from "./drill-kinds.ts";
import { danceOption, holesOption } from "./drill-options.ts";
import { HARP_OPTIONS, harpOption } from "./harp-option.ts";
import { MODE_OPTIONS, modeOption } from "./home-option.ts";
import type { Io } from "./io.ts";
import { readTuneFile, tuneOf } from "./tune-files.ts";

const SETTING = [
  ...HARP_OPTIONS,
  "kind",
  "position",
  ...MODE_OPTIONS,
  "bends",
  "overbends",
  "dance",
  "tempo",
  "note-value",
  "beats-per-bar",
  "count-in",
];
/** Prints an exercise made from the options. */
export async function exercise(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, [...SETTING, ...EVERY_KIND_OPTION]);
  fileWords(read, []);
  const kind = choiceOption(read, "kind", "scale", DRILL_KINDS);
  refuseStrangers(read, kind);
  const told = await withChordsOfTune(read);
  const made = makeDrill(drillOfKind(kind, told, settingOf(told, await harpOption(told))));
  if (made.kind === "impossible") throw new CommandError(made.reason);
  io.stdout(`${JSON.stringify(made.exercise, null, 2)}\n`);
}

/** With `--tune` the chords, and where nothing else is said beat and bar, are those of the tune. */
async function withChordsOfTune(args: Arguments): Promise<Arguments> {
  const { tune: path, chords } = args.options;
  if (path === undefined) return args;
  if (chords !== undefined) throw new CommandError("--tune brings its own chords: leave out --chords");
  const tune = tuneOf(await readTuneFile(path, args), args);
  const backing = backingOfTune(tune);
  if (backing.kind === "none") throw new CommandError(`${path}: ${backing.reason}`);
  const ofTune = {
    chords: backing.chords,
    ...(args.options.dance === undefined
      ? {
          "note-value": backing.tempo.noteValue,
          "beats-per-bar": String(backing.beatsPerBar),
          tempo: String(backing.tempo.bpm),
          strokes: backing.strokes,
        }
      : {}),
  };
  return { ...args, options: { ...ofTune, ...args.options } };
}

function refuseStrangers(args: Arguments, kind: DrillKind): void {
  const fits = [...SETTING, ...optionsOfKind(kind)];
  const stranger = Object.keys(args.options).find((name) => !fits.includes(name));
  if (stranger !== undefined) {
    const own = optionsOfKind(kind)
      .map((name) => `--${name}`)
      .join(", ");
    throw new CommandError(`--${stranger} does not go with --kind ${kind}, which takes ${own}`);
  }
}

function settingOf(args: Arguments, harp: Harp): DrillSetting {
  const position = numberOption(args, "position", 1, { low: 1, high: 12, whole: true });
  const dance = danceOption(args);
  const beatsPerBar = args.options["beats-per-bar"] === undefined ? dance?.beatsPerBar : beatsPerBarOf(args);
  return {
    harp,
    position,
    mode: modeOf(args, harp, position),
    abilities: { bends: holesOption(args, "bends", true), overbends: holesOption(args, "overbends", false) },
    tempo: {
      bpm: bpm(numberOption(args, "tempo", dance?.danceTempo ?? 90, { low: SLOWEST, high: FASTEST })),
      noteValue: choiceOption(args, "note-value", dance?.noteValue ?? "1/4", NOTE_VALUES),
    },
    countInBeats: numberOption(args, "count-in", 4, { low: 0, high: 16, whole: true }),
    ...(beatsPerBar === undefined ? {} : { beatsPerBar }),
  };
}

const beatsPerBarOf = (args: Arguments) =>
  numberOption(args, "beats-per-bar", 4, { low: 1, high: 16, whole: true });

function modeOf(args: Arguments, harp: Harp, position: number): Mode {
  const mode = modeOption(args) ?? naturalModeOf(harp, position);
  if (mode !== null) return mode;
  throw new CommandError(
    `${positionName(position)} position has no natural mode: say --mode, one of ${MODE_NAMES.join(", ")}, or --degrees`,
  );
}
