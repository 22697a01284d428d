import type { Harp } from "../../core/instrument/harp.ts";
import { soundingRange } from "../../core/instrument/harp.ts";
import type { Breath } from "../../core/instrument/layout.ts";
import { positionHome, positionHomeName } from "../../core/instrument/positions.ts";
import type { ReedAction } from "../../core/instrument/reed-actions.ts";
import { readTab } from "../../core/instrument/tab.ts";
import { readMode } from "../../core/pitch/modes.ts";
import { midiOfName, pitchClassOfName } from "../../core/pitch/note-names.ts";
import { isObject, shown } from "../../core/reading/json-values.ts";
import type { Tune } from "../../core/tune/tune.ts";
import {
  HOLE_ORDERS,
  type HoleOrder,
  type KeptBend,
  type KeptChord,
  LARGEST_MOST_SEMITONES,
  type Limits,
  type ReedLimit,
  USUAL_MOST_SEMITONES,
} from "../../core/workshop/design/limits.ts";
import type { WeighedTune } from "../../core/workshop/design/repertoire.ts";
import type { WantedScale } from "../../core/workshop/design/wish.ts";
import { type Arguments, numberOption } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { jsonFile } from "./files.ts";

export const LIMIT_OPTIONS: readonly string[] = [
  "most-semitones",
  "most-changed",
  "stay",
  "reeds",
  "order",
  "keep-chords",
  "keep-bends",
];

/** Parts of an option's text between commas or semicolons; none where the option is absent. */
const partsOf = (args: Arguments, name: string, between: RegExp): readonly string[] =>
  (args.options[name] ?? "")
    .split(between)
    .map((part) => part.trim())
    .filter((part) => part !== "");

/**
 * The scales of `--scales`, "G major D4-B6; 3 dorian": home note or position, mode or degrees, and the range, the harp's own where
 * none is said.
 *
 * @throws CommandError naming the scale and the word that is not understood
 */
export function scalesOption(args: Arguments, harp: Harp): readonly WantedScale[] {
  return partsOf(args, "scales", /[;,]/).map((text) => scaleOf(text, harp));
}

function scaleOf(text: string, harp: Harp): WantedScale {
  const fault = (why: string) => new CommandError(`--scales "${text}": ${why}`);
  const words = text.split(/\s+/);
  const last = words.at(-1) ?? "";
  // No mode and no degree has a hyphen with something on both sides.
  const range = /^([^-]+)-(.+)$/.exec(last);
  const { homeName, home } = homeOf(words[0] ?? "", harp, fault);
  const read = readMode(words.slice(1, range === null ? undefined : -1).join(" "));
  if (read.kind === "unreadable") throw fault(`the mode ${read.reason}`);
  if (range === null) {
    const { low, high } = soundingRange(harp);
    return { homeName, home, mode: read.mode, low, high };
  }
  const [low, high] = [midiOfName(range[1] ?? ""), midiOfName(range[2] ?? "")];
  if (low === null || high === null) throw fault(`${last} is no range of notes, such as D4-B6`);
  return { homeName, home, mode: read.mode, low, high };
}

function homeOf(word: string, harp: Harp, fault: (why: string) => CommandError) {
  const position = Number(word);
  if (Number.isInteger(position) && position >= 1 && position <= 12)
    return { homeName: positionHomeName(harp, position), home: positionHome(harp, position) };
  const home = pitchClassOfName(word);
  if (home === null)
    throw fault(`${shown(word)} is neither a home note, such as G, nor a position from 1 to 12`);
  return { homeName: word.charAt(0).toUpperCase() + word.slice(1), home };
}

/** @throws CommandError naming the option and what is not understood */
export function limitsOption(args: Arguments, harp: Harp): Limits {
  const within = { low: 0, high: LARGEST_MOST_SEMITONES, whole: true };
  const most = { low: 0, high: 32, whole: true };
  return {
    mostSemitones: numberOption(args, "most-semitones", USUAL_MOST_SEMITONES, within),
    mostChanged:
      args.options["most-changed"] === undefined ? null : numberOption(args, "most-changed", 0, most),
    reeds: [...staysOption(args), ...partsOf(args, "reeds", /[\s,;]+/).map(reedLimitOf)],
    order: orderOption(args, harp),
    chords: partsOf(args, "keep-chords", /[,;]/).map(chordOf),
    bends: partsOf(args, "keep-bends", /[\s,;]+/).map(bendOf),
  };
}

function plainReed(text: string, option: string): ReedAction {
  const action = readTab(text);
  if (action === null || action.technique !== "plain")
    throw new CommandError(`--${option}: "${text}" is no reed in tab, such as 4 for 4 blow or -3 for 3 draw`);
  return action;
}

const staysOption = (args: Arguments): readonly ReedLimit[] =>
  partsOf(args, "stay", /[\s,;]+/).map((text) => {
    const { hole, breath } = plainReed(text, "stay");
    return { hole, breath, up: 0, down: 0 };
  });

/** "-5:+1-0": 5 draw may rise one semitone and not fall. */
function reedLimitOf(text: string): ReedLimit {
  const match = /^([^:]+):\+(\d{1,2})-(\d{1,2})$/.exec(text);
  if (match === null)
    throw new CommandError(
      `--reeds: "${text}" is no limit of a reed, such as -5:+1-0 for 5 draw, one up and none down`,
    );
  const { hole, breath } = plainReed(match[1] ?? "", "reeds");
  return { hole, breath, up: Number(match[2]), down: Number(match[3]) };
}

/** One word for all holes, "as-now", or a word for each. */
function orderOption(args: Arguments, harp: Harp): HoleOrder | readonly HoleOrder[] {
  const words = partsOf(args, "order", /[\s,;]+/);
  const [only = "free"] = words;
  if (words.length <= 1) return only === "as-now" ? ordersNow(harp) : orderOf(only);
  return words.map(orderOf);
}

const ordersNow = (harp: Harp): readonly HoleOrder[] =>
  harp.layout.holes.map(({ blow, draw }) => {
    if (blow === null || draw === null || blow === draw) return "free";
    return draw > blow ? "draw higher" : "blow higher";
  });

function orderOf(word: string): HoleOrder {
  const found = HOLE_ORDERS.find((order) => order.replace(" ", "-") === word);
  if (found === undefined)
    throw new CommandError(
      `--order: "${word}" is none; there are free, draw-higher, blow-higher, and as-now for all holes`,
    );
  return found;
}

/** "4-5-6 blow". */
function chordOf(text: string): KeptChord {
  const match = /^(\d{1,2}(?:-\d{1,2})+)\s+(blow|draw)$/.exec(text);
  if (match === null) throw new CommandError(`--keep-chords: "${text}" is no chord, such as 4-5-6 blow`);
  const holes = (match[1] ?? "").split("-").map(Number);
  return { breath: match[2] as Breath, holes: [...new Set(holes)].sort((one, other) => one - other) };
}

function bendOf(text: string): KeptBend {
  const action = readTab(text);
  if (action === null || action.technique !== "bend")
    throw new CommandError(
      `--keep-bends: "${text}" is no bend in tab, such as -3'' for 3 draw bent two semitones`,
    );
  const { hole, breath, bentSemitones } = action;
  return { hole, breath, bentSemitones };
}

const MOST_WEIGHT = 1000;

/**
 * The tunes with the weights of `--tune-weights`, a file with an object of numbers by title; 1 where a title is not named.
 *
 * @throws CommandError naming the file and the title or number that is wrong
 */
export async function weighedOption(
  args: Arguments,
  tunes: readonly Tune[],
): Promise<readonly WeighedTune[]> {
  const path = args.options["tune-weights"];
  if (path === undefined) return tunes.map((tune) => ({ tune, weight: 1 }));
  return weighedBy(await jsonFile(path), path, tunes);
}

/** As a file of weights has them. @throws CommandError naming the file and the title or number */
export function weighedBy(weights: unknown, path: string, tunes: readonly Tune[]): readonly WeighedTune[] {
  if (!isObject(weights)) throw new CommandError(`${path}: must be an object of numbers by title`);
  const titles = tunes.map(({ title }) => title);
  for (const [title, weight] of Object.entries(weights)) {
    if (!titles.includes(title))
      throw new CommandError(`${path}: there is no tune ${shown(title)} in these files`);
    if (typeof weight !== "number" || !(weight > 0 && weight <= MOST_WEIGHT))
      throw new CommandError(
        `${path}: the weight of ${shown(title)} must be above 0 and at most ${MOST_WEIGHT}, not ${shown(weight)}`,
      );
  }
  return tunes.map((tune) => ({
    tune,
    weight: Object.hasOwn(weights, tune.title) ? Number(weights[tune.title]) : 1,
  }));
}
