import { BACKING_STROKES } from "../../core/exercise/backing-strokes.ts";
import { usualProgression } from "../../core/exercise/chords.ts";
import type { DrillKind, DrillSetting, DrillSpec, PatternFigure } from "../../core/exercise/drill-spec.ts";
import { PATTERN_FIGURES } from "../../core/exercise/pattern-drill.ts";
import type { Mode } from "../../core/pitch/modes.ts";
import { type Arguments, choiceOption, numberOption } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import {
  actionOption,
  danceOption,
  octavesOption,
  rangeOptions,
  roundsOption,
  runningOptions,
} from "./drill-options.ts";

/** What a kind of drill takes on the command line, and how its choices are read. */
interface KindOptions<K extends DrillKind> {
  readonly names: readonly string[];
  readonly read: (
    args: Arguments,
    setting: DrillSetting,
  ) => Omit<Extract<DrillSpec, { kind: K }>, "kind" | keyof DrillSetting>;
}

const RUNNING = ["notes-per-beat", "rhythm", "swing", "accents"];
const RANGE = ["octaves", "start", "from-degree"];

/** The options of each kind beside those of harp, position, mode, tempo and abilities. */
const KINDS: { readonly [K in DrillKind]: KindOptions<K> } = {
  scale: {
    names: [...RANGE, ...RUNNING, "direction"],
    read: (args) => ({ ...runningOptions(args), ...rangeOptions(args), direction: direction(args) }),
  },
  arpeggio: {
    names: ["degree", "chord", "octaves", "start", "direction", ...RUNNING],
    read: (args) => ({
      ...runningOptions(args),
      degree: args.options.degree ?? "1",
      size: choiceOption(args, "chord", "triad", ["triad", "seventh"]),
      octaves: octavesOption(args),
      start: start(args),
      direction: direction(args),
    }),
  },
  progression: {
    names: ["numerals", "figure", "start", "repeats", ...RUNNING],
    read: (args, setting) => ({
      ...runningOptions(args),
      numerals: numeralsOption(args, setting.mode),
      figure: choiceOption(args, "figure", "up", ["up", "up-and-back"]),
      start: start(args),
      repeats: whole(args, "repeats", 1, 1, 32),
    }),
  },
  backing: {
    names: ["chords", "strokes", "most-holes", "partial", "repeats", "tune", "number"],
    read: (args, setting) => ({
      chords: chordsOption(args, setting.mode),
      strokes: choiceOption(args, "strokes", danceOption(args)?.strokes ?? "beats", BACKING_STROKES),
      mostHoles: whole(args, "most-holes", 3, 2, 4),
      partial: choiceOption(args, "partial", "yes", ["yes", "no"]) === "yes",
      repeats: whole(args, "repeats", 2, 1, 32),
    }),
  },
  pattern: {
    names: ["figure", "direction", ...RANGE, ...RUNNING],
    read: (args) => ({
      ...runningOptions(args),
      ...rangeOptions(args),
      figure: choiceOption(args, "figure", "thirds", Object.keys(PATTERN_FIGURES) as PatternFigure[]),
      direction: direction(args),
    }),
  },
  bend: {
    names: ["figure", "technique", "hole", "breath", "bent", "hold", "rest", "repeats", "target", "seed"],
    read: bendChoices,
  },
  "breath-pair": {
    names: ["first", "second", "rounds", "round-beats"],
    read: (args) => ({
      first: actionOption(args, "first"),
      second: actionOption(args, "second"),
      rounds: roundsOption(args),
      roundBeats: whole(args, "round-beats", 8, 1, 64),
    }),
  },
  "hole-jumps": {
    names: ["jump", "breath", "direction", "repeats", ...RUNNING],
    read: (args) => ({
      ...runningOptions(args),
      jump: whole(args, "jump", 1, 1, 4) as 1 | 2 | 3 | 4,
      breath: choiceOption(args, "breath", "draw", ["blow", "draw", "alternate"]),
      direction: direction(args),
      repeats: whole(args, "repeats", 1, 1, 32),
    }),
  },
  "one-breath": {
    names: ["breath", "repeats", ...RUNNING],
    read: (args) => ({
      ...runningOptions(args, 2),
      breath: choiceOption(args, "breath", "longest", ["blow", "draw", "longest"]),
      repeats: whole(args, "repeats", 2, 1, 32),
    }),
  },
  "long-tones": {
    names: ["tone", "rest", "direction", ...RANGE],
    read: (args) => ({
      ...rangeOptions(args),
      direction: direction(args),
      toneBeats: numberOption(args, "tone", 4, { low: 1, high: 16 }),
      restBeats: numberOption(args, "rest", 4, { low: 0, high: 16 }),
    }),
  },
  "random-notes": {
    names: ["count", "seed", "target-as", "largest-leap", "note-beats", "call-beats", ...RANGE],
    read: randomChoices,
  },
};

/** Names of the options a kind takes besides those of its setting. */
export const optionsOfKind = (kind: DrillKind): readonly string[] => KINDS[kind].names;

/** Every option any kind takes. */
export const EVERY_KIND_OPTION: readonly string[] = [
  ...new Set(Object.values(KINDS).flatMap((kind) => kind.names)),
];

/** The drill of a kind with its choices from the command line. @throws CommandError naming the option that is wrong */
export function drillOfKind(kind: DrillKind, args: Arguments, setting: DrillSetting): DrillSpec {
  // Each row of the table reads the choices of its own kind: together they are that kind's drill.
  return { kind, ...setting, ...KINDS[kind].read(args, setting) } as DrillSpec;
}

const whole = (args: Arguments, name: string, usual: number, low: number, high: number) =>
  numberOption(args, name, usual, { low, high, whole: true });
const direction = (args: Arguments) => choiceOption(args, "direction", "both", ["up", "down", "both"]);
const start = (args: Arguments) => choiceOption(args, "start", "easiest", ["easiest", "lowest"]);
const seed = (args: Arguments) => whole(args, "seed", 1, 0, 2 ** 32 - 1);

function numeralsOption(args: Arguments, mode: Mode): string {
  const numerals = args.options.numerals ?? usualProgression(mode);
  if (numerals === null)
    throw new CommandError(`--numerals is missing: chords of ${mode} in Roman numerals, such as I-IV-V-I`);
  return numerals;
}

function chordsOption(args: Arguments, mode: Mode): string {
  const chords = args.options.chords ?? usualProgression(mode);
  if (chords === null)
    throw new CommandError(`--chords is missing: Roman numerals of ${mode} or chord symbols, such as G-C-D`);
  return chords;
}

const USUAL_HOLDS = { hold: 4, "from-above": 3, match: 2, ladder: 1 } as const;

function bendChoices(args: Arguments) {
  const { hole, breath, bent, technique } = args.options;
  const figure = choiceOption(args, "figure", "hold", ["hold", "from-above", "match", "ladder"]);
  return {
    figure,
    holdBeats: numberOption(args, "hold", USUAL_HOLDS[figure], { low: 0.5, high: 16 }),
    restBeats: numberOption(args, "rest", 4, { low: 0, high: 16 }),
    repeats: whole(args, "repeats", 4, 1, 32),
    targetShown: choiceOption(args, "target", "shown", ["shown", "hidden"]) === "shown",
    seed: seed(args),
    ...(technique === undefined
      ? {}
      : { technique: choiceOption(args, "technique", "bend", ["bend", "overblow", "overdraw"]) }),
    ...(hole === undefined ? {} : { hole: whole(args, "hole", 1, 1, 16) }),
    ...(breath === undefined ? {} : { breath: choiceOption(args, "breath", "draw", ["blow", "draw"]) }),
    ...(bent === undefined ? {} : { bentSemitones: whole(args, "bent", 1, 1, 24) }),
  };
}

function randomChoices(args: Arguments) {
  const noteBeats = numberOption(args, "note-beats", 1, { low: 0.25, high: 16 });
  const leap = args.options["largest-leap"];
  return {
    ...rangeOptions(args),
    count: whole(args, "count", 16, 1, 500),
    seed: seed(args),
    targetAs: choiceOption(args, "target-as", "name", ["name", "degree", "heard"]),
    noteBeats,
    callBeats: numberOption(args, "call-beats", noteBeats, { low: 0, high: 16 }),
    ...(leap === undefined ? {} : { largestLeap: whole(args, "largest-leap", 1, 1, 100) }),
  };
}
