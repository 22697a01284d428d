import type { Harp } from "../../core/instrument/harp.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import {
  type PlannedDance,
  type PlannedSet,
  planDance,
} from "../../core/progress/repertoire/repertoire-dance.ts";
import { type HarpPlace, layTune } from "../../core/progress/repertoire/repertoire-lay.ts";
import { fewestChanges, orderTune } from "../../core/progress/repertoire/repertoire-order.ts";
import {
  BREAK_SECONDS,
  PAUSE_SECONDS,
  type SetList,
  TIMES_THROUGH,
} from "../../core/progress/repertoire/repertoire-set-list.ts";
import { danceCsv, danceText } from "../../core/progress/repertoire/repertoire-words.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { type Arguments, choiceOption, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { repertoire } from "./fit.ts";
import { HARPS_OPTIONS, harpsOption, ownedOption, shortHarp } from "./harps-option.ts";
import type { Io } from "./io.ts";
import { abilitiesOption, weightsOption } from "./plan-options.ts";
import { setListFile } from "./set-list-file.ts";
import { TUNE_OPTIONS } from "./tune-files.ts";
import { leftOutOf } from "./tune-json.ts";

const OCTAVE = 12;

/** Prints how long each tune, set and the whole dance lasts, the harp of each tune and where another has to be taken. */
export async function setlist(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, [
    ...TUNE_OPTIONS,
    ...HARPS_OPTIONS,
    "owned",
    "bends",
    "overbends",
    "weights",
    "list",
    "times",
    "pause",
    "as",
  ]);
  const as = choiceOption(read, "as", "json", ["json", "csv", "text"] as const);
  const harps = await harpsToPlay(read);
  const { files, tunes } = await repertoire(read);
  const byTitle = new Map(tunes.map(({ tune }) => [tune.title.toLowerCase(), tune]));
  const list = await listOption(
    read,
    tunes.map(({ tune }) => tune),
    byTitle,
  );
  const wish = { harps, octaves: null, abilities: abilitiesOption(read), weights: await weightsOption(read) };
  const dance = planDance(list, ({ title, harp }) => {
    const tune = byTitle.get(title.toLowerCase());
    return tune === undefined ? null : layTune(tune, { ...wish, harp: harp ?? null });
  });
  if (as === "csv") return io.stdout(danceCsv(dance));
  if (as === "text") return io.stdout(danceText(dance));
  io.stdout(`${JSON.stringify({ ...danceToJson(dance), leftOut: files.flatMap(leftOutOf) }, null, 2)}\n`);
}

/** Those of `--owned`; else those of the other options, of the standard layout where they name none. */
async function harpsToPlay(args: Arguments): Promise<readonly Harp[]> {
  const owned = await ownedOption(args);
  const others = HARPS_OPTIONS.find((name) => args.options[name] !== undefined);
  if (owned.length > 0 && others !== undefined)
    throw new CommandError(`--owned and --${others} both say which harps: take one of them`);
  if (owned.length > 0) return owned;
  return harpsOption({ ...args, options: { layouts: STANDARD_LAYOUT.id, ...args.options } });
}

/** The list of `--list`; else all tunes in one set, in the order of the files. */
async function listOption(
  args: Arguments,
  tunes: readonly Tune[],
  byTitle: ReadonlyMap<string, Tune>,
): Promise<SetList> {
  const { list } = args.options;
  if (list === undefined) return oneSet(args, tunes);
  const other = ["times", "pause"].find((name) => args.options[name] !== undefined);
  if (other !== undefined) throw new CommandError(`--${other} does not go with --list, which says it itself`);
  return setListFile(list, (title) => byTitle.get(title.toLowerCase())?.title ?? null);
}

function oneSet(args: Arguments, tunes: readonly Tune[]): SetList {
  const times = numberOption(args, "times", TIMES_THROUGH.usual, { ...TIMES_THROUGH, whole: true });
  const pauseSeconds = numberOption(args, "pause", PAUSE_SECONDS.usual, PAUSE_SECONDS);
  const places = tunes.map(({ title }, n) => ({ id: String(n), tuneId: title, title, times }));
  const set = { id: "1", name: "", tunes: places, pauseSeconds, breakSeconds: BREAK_SECONDS.usual };
  return { id: "1", name: "Set list", sets: [set] };
}

const danceToJson = (dance: PlannedDance) => ({
  schema: "reedpath.setlist",
  version: 1,
  name: dance.list.name,
  seconds: rounded(dance.seconds),
  playedSeconds: rounded(dance.playedSeconds),
  harpChanges: dance.changes,
  sets: dance.sets.map(setToJson),
});

function setToJson(planned: PlannedSet) {
  const { set, tunes, changes, seconds } = planned;
  return {
    name: set.name,
    seconds: rounded(seconds),
    pauseSeconds: set.pauseSeconds,
    breakSeconds: set.breakSeconds,
    tunes: tunes.map(({ tune, laid, tempo, place, seconds: lasts, noHarpPlain }) => ({
      title: tune.title,
      times: tune.times,
      bars: laid?.bars ?? null,
      tempo,
      seconds: rounded(lasts),
      ...(place === null ? {} : placeToJson(place)),
      noHarpPlain,
    })),
    changes: changes.map(({ after, from, to, seconds: between }) => ({
      afterTune: after + 1,
      from: shortHarp(from.harp).name,
      to: shortHarp(to.harp).name,
      seconds: rounded(between),
    })),
    fewestChanges: orderToJson(planned),
  };
}

const placeToJson = ({ harp, shift, position, plain, bent, overblown, missing }: HarpPlace) => ({
  harp: shortHarp(harp),
  octaves: shift / OCTAVE,
  position,
  plain,
  bent,
  overblown,
  missing,
});

/** An order with fewer changes; null where there is none, or too many tunes to try. */
function orderToJson({ tunes }: PlannedSet) {
  const wishes = tunes.flatMap((one) => orderTune(one) ?? []);
  const found = wishes.length === tunes.length ? fewestChanges(wishes) : null;
  if (found === null || found.changes >= found.changesNow) return null;
  const places = new Map(
    tunes.flatMap(({ laid }) =>
      [laid?.place, ...(laid?.onEach ?? [])].map((one) => [one?.key, one] as const),
    ),
  );
  return {
    changes: found.changes,
    order: found.order.map((place, n) => {
      const harp = places.get(found.harps[n] ?? "")?.harp;
      return {
        title: tunes[place]?.tune.title ?? "",
        harp: harp === undefined ? null : shortHarp(harp).name,
      };
    }),
  };
}

/** To a thousandth of a second. */
const rounded = (seconds: number) => Math.round(1000 * seconds) / 1000;
