import { USUAL_RULE } from "../../core/exercise/tune-ladder.ts";
import { planTune, type TunePlan } from "../../core/exercise/tune-plan.ts";
import { type Harp, harpInKey, KEYS_BY_REGISTER } from "../../core/instrument/harp.ts";
import { positionOfHome } from "../../core/instrument/positions.ts";
import type { Abilities, ReedAction } from "../../core/instrument/reed-actions.ts";
import { readTab } from "../../core/instrument/tab.ts";
import { FIRST_WEIGHTS, readWeights, type Weights } from "../../core/path/weights.ts";
import { pitchClassOfName } from "../../core/pitch/note-names.ts";
import { isObject, shown } from "../../core/reading/json-values.ts";
import { beyond, LIMITS } from "../../core/reading/limits.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { type Arguments, choiceOption, numberOption } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { holesOption } from "./drill-options.ts";
import { jsonFile } from "./files.ts";
import { HARP_OPTIONS, harpOption } from "./harp-option.ts";

/** The options that lay a tune on a harp. */
export const PLAN_OPTIONS: readonly string[] = [
  ...HARP_OPTIONS,
  "position",
  "bends",
  "overbends",
  "octaves",
  "pins",
  "weights",
  "even",
];
const PHRASE_BARS = 4;
const MOST_OCTAVES = 3;
const YES_NO = ["yes", "no"] as const;

/** `--bends` and `--overbends`: bends and no overblows where nothing is said. */
export const abilitiesOption = (args: Arguments): Abilities => ({
  bends: holesOption(args, "bends", true),
  overbends: holesOption(args, "overbends", false),
});

export const yesOption = (args: Arguments, name: string): boolean =>
  choiceOption(args, name, "no", YES_NO) === "yes";

/**
 * Lays a tune on the harp of the options.
 *
 * @throws CommandError with one line naming the option, or the file and what is wrong with it
 */
export async function planOption(tune: Tune, args: Arguments): Promise<TunePlan> {
  const harp = await harpInPosition(tune, args);
  const plan = planTune({
    tune,
    harps: [harp],
    abilities: abilitiesOption(args),
    weights: await weightsOption(args),
    tempo: tune.tempo,
    octaves:
      args.options.octaves === undefined
        ? null
        : numberOption(args, "octaves", 0, { low: -MOST_OCTAVES, high: MOST_OCTAVES, whole: true }),
    pins: await pinsOption(args, tune),
    even: yesOption(args, "even"),
    phraseBars: PHRASE_BARS,
    phrases: null,
    rule: USUAL_RULE,
  });
  const [lost] = plan.path.lostPins;
  if (lost !== undefined) {
    const written = tune.notes[lost.pin.note]?.written;
    throw new CommandError(`${args.options.pins}: the pin of written note ${written}: ${lost.reason}`);
  }
  return plan;
}

/** The harp of the options; with `--position` the one on which the tune's home note lies there. */
async function harpInPosition(tune: Tune, args: Arguments): Promise<Harp> {
  if (args.options.position === undefined) return harpOption(args);
  const position = numberOption(args, "position", 1, { low: 1, high: 12, whole: true });
  if (args.options.key !== undefined)
    throw new CommandError("--key and --position both say which harp: take one of them");
  const home = pitchClassOfName(tune.key.tonic);
  if (home === null) throw new CommandError(`--position: the tune ${shown(tune.title)} has no home note`);
  const { layout } = await harpOption({ ...args, options: { ...args.options, register: "usual" } });
  const key = KEYS_BY_REGISTER.find((name) => {
    const harp = harpInKey(layout, name);
    return harp !== null && positionOfHome(harp, home) === position;
  });
  return harpOption({ ...args, options: { ...args.options, key: key ?? "C" } });
}

/** Numbers by name, as `core/path/weights.ts` lists them. */
export async function weightsOption(args: Arguments): Promise<Weights> {
  const path = args.options.weights;
  if (path === undefined) return FIRST_WEIGHTS;
  const read = readWeights(await jsonFile(path));
  if (read.kind === "unreadable") throw new CommandError(`${path}: ${read.reason}`);
  return read.weights;
}

interface PinOfNote {
  readonly written: number;
  readonly action: ReedAction;
}

/** A list of notes by their number as written, each with its tab: `[{"written": 3, "tab": "-4"}]`. */
async function pinsOption(args: Arguments, tune: Tune): Promise<readonly PinOfNote[]> {
  const path = args.options.pins;
  if (path === undefined) return [];
  return pinsOf(await jsonFile(path), path, tune);
}

/** As a file of pins has them. @throws CommandError naming the file and the pin */
export function pinsOf(list: unknown, path: string, tune: Tune): readonly PinOfNote[] {
  if (!Array.isArray(list))
    throw new CommandError(`${path}: pins must be a list such as [{"written": 3, "tab": "-4"}]`);
  if (list.length > LIMITS.pins.most) throw new CommandError(`${path}: ${beyond(list.length, LIMITS.pins)}`);
  const known = new Set(tune.notes.map((note) => note.written));
  return list.map((pin: unknown, index) => {
    const fault = (words: string) => new CommandError(`${path}: pin ${index + 1}: ${words}`);
    if (!isObject(pin)) throw fault(`must be such as {"written": 3, "tab": "-4"}, not ${shown(pin)}`);
    const { written, tab } = pin;
    if (typeof written !== "number" || !known.has(written))
      throw fault(`written must be the number of a note as written, which ${shown(written)} is not`);
    const action = typeof tab === "string" ? readTab(tab) : null;
    if (action === null) throw fault(`tab must be a hole such as "4", "-4" or "-3''", not ${shown(tab)}`);
    return { written, action };
  });
}
