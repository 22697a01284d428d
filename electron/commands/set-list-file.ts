import {
  BREAK_SECONDS,
  type DanceSet,
  PAUSE_SECONDS,
  type SetList,
  type SetTune,
  TIMES_THROUGH,
} from "../../core/progress/repertoire/repertoire-set-list.ts";
import { isObject, shown } from "../../core/reading/json-values.ts";
import { beyond, LIMITS, type Limit } from "../../core/reading/limits.ts";
import { FASTEST, SLOWEST } from "../../core/tune/tempo.ts";
import { CommandError } from "./command-error.ts";
import { jsonFile } from "./files.ts";
import { knownHarp } from "./harps-option.ts";

/**
 * A set list as it stands in a file: `{"name": "Autumn dance", "sets": [{"name": "Jigs", "pauseSeconds": 0, "breakSeconds":
 * 180, "tunes": [{"title": "...", "times": 3, "bpm": 116, "harp": "standard D"}]}]}`; all but titles may be left out.
 *
 * @param titleOf the title of a tune there is, whatever its case; null where there is none
 * @throws CommandError with one line naming the file, the set, the tune and what is wrong
 */
export async function setListFile(path: string, titleOf: TitleOf): Promise<SetList> {
  return setListOf(await jsonFile(path), path, titleOf);
}

type TitleOf = (title: string) => string | null;

/** As `setListFile`, of data already parsed. */
export function setListOf(value: unknown, path: string, titleOf: TitleOf): SetList {
  if (!isObject(value) || !Array.isArray(value.sets))
    throw new CommandError(`${path}: expected {"name": …, "sets": […]}`);
  refuseBeyond(value.sets, LIMITS.listSets, path);
  const sets = value.sets.map((set: unknown, n) => setOf(set, n, path, titleOf));
  return { id: path, name: textOf(value.name, "Set list", `${path}: name`), sets };
}

/** More sets, or tunes in one, are no dance but a mistake. */
function refuseBeyond(list: readonly unknown[], limit: Limit, where: string): void {
  if (list.length > limit.most) throw new CommandError(`${where}: ${beyond(list.length, limit)}`);
}

function setOf(set: unknown, n: number, path: string, titleOf: TitleOf): DanceSet {
  const where = `${path}: set ${n + 1}`;
  if (!isObject(set) || !Array.isArray(set.tunes))
    throw new CommandError(`${where}: expected {"tunes": […]}`);
  refuseBeyond(set.tunes, LIMITS.listTunes, where);
  const tunes = set.tunes.map((tune: unknown, place) =>
    tuneIn(tune, `${n} ${place}`, `${where}, tune ${place + 1}`, titleOf),
  );
  return {
    id: String(n),
    name: textOf(set.name, "", `${where}: name`),
    tunes,
    pauseSeconds: numberOf(set.pauseSeconds, PAUSE_SECONDS, `${where}: pauseSeconds`),
    breakSeconds: numberOf(set.breakSeconds, BREAK_SECONDS, `${where}: breakSeconds`),
  };
}

function tuneIn(tune: unknown, id: string, where: string, titleOf: TitleOf): SetTune {
  if (!isObject(tune) || typeof tune.title !== "string")
    throw new CommandError(`${where}: expected {"title": …}, not ${shown(tune)}`);
  const title = titleOf(tune.title);
  if (title === null) throw new CommandError(`${where}: no file has a tune called ${shown(tune.title)}`);
  const times = numberOf(tune.times, TIMES_THROUGH, `${where}: times`);
  if (!Number.isInteger(times))
    throw new CommandError(`${where}: times must be a whole number, not ${times}`);
  const bpm = { low: SLOWEST, high: FASTEST, usual: SLOWEST };
  return {
    id,
    tuneId: title,
    title,
    times,
    ...(tune.bpm === undefined ? {} : { bpm: numberOf(tune.bpm, bpm, `${where}: bpm`) }),
    ...(tune.harp === undefined ? {} : { harp: knownHarp(textOf(tune.harp, "", `${where}: harp`), where) }),
  };
}

function textOf(value: unknown, usual: string, where: string): string {
  if (value === undefined) return usual;
  if (typeof value !== "string") throw new CommandError(`${where} must be a text, not ${shown(value)}`);
  return value;
}

interface Bounds {
  readonly low: number;
  readonly high: number;
  readonly usual: number;
}

function numberOf(value: unknown, { low, high, usual }: Bounds, where: string): number {
  if (value === undefined) return usual;
  if (typeof value !== "number" || !(value >= low && value <= high))
    throw new CommandError(`${where} must be a number from ${low} to ${high}, not ${shown(value)}`);
  return value;
}
