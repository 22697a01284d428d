import { Fault, isObject, parsed, shown } from "../../core/instrument/json-values.ts";
import {
  BREAK_SECONDS,
  type DanceSet,
  PAUSE_SECONDS,
  type SetList,
  type SetTune,
  TIMES_THROUGH,
} from "../../core/progress/repertoire-set-list.ts";
import { FASTEST, SLOWEST } from "../../core/tune/tempo.ts";
import { CommandError } from "./command-error.ts";
import { readTextFile } from "./files.ts";
import { harpOfText } from "./harps-option.ts";

/** More sets, or tunes in one, are no dance but a mistake. */
const MOST_SETS = 100;
const MOST_TUNES = 100;

/**
 * A set list as it stands in a file: `{"name": "Autumn dance", "sets": [{"name": "Jigs", "pauseSeconds": 0, "breakSeconds":
 * 180, "tunes": [{"title": "...", "times": 3, "bpm": 116, "harp": "standard D"}]}]}`; all but titles may be left out.
 *
 * @param titleOf the title of a tune there is, whatever its case; null where there is none
 * @throws CommandError with one line naming the file, the set, the tune and what is wrong
 */
export async function setListFile(path: string, titleOf: (title: string) => string | null): Promise<SetList> {
  const value = await jsonOf(path);
  if (!isObject(value) || !Array.isArray(value.sets) || value.sets.length > MOST_SETS)
    throw new CommandError(`${path}: expected {"name": …, "sets": […]} with at most ${MOST_SETS} sets`);
  const sets: DanceSet[] = [];
  for (const [n, set] of value.sets.entries()) sets.push(await setOf(set, n, path, titleOf));
  return { id: path, name: textOf(value.name, "Set list", `${path}: name`), sets };
}

async function jsonOf(path: string): Promise<unknown> {
  try {
    return parsed(await readTextFile(path));
  } catch (error) {
    if (error instanceof Fault) throw new CommandError(`${path}: ${error.message}`);
    throw error;
  }
}

async function setOf(
  set: unknown,
  n: number,
  path: string,
  titleOf: (title: string) => string | null,
): Promise<DanceSet> {
  const where = `${path}: set ${n + 1}`;
  if (!isObject(set) || !Array.isArray(set.tunes) || set.tunes.length > MOST_TUNES)
    throw new CommandError(`${where}: expected {"tunes": […]} with at most ${MOST_TUNES} tunes`);
  const tunes: SetTune[] = [];
  for (const [place, tune] of set.tunes.entries())
    tunes.push(await tuneIn(tune, `${n} ${place}`, `${where}, tune ${place + 1}`, titleOf));
  return {
    id: String(n),
    name: textOf(set.name, "", `${where}: name`),
    tunes,
    pauseSeconds: numberOf(set.pauseSeconds, PAUSE_SECONDS, `${where}: pauseSeconds`),
    breakSeconds: numberOf(set.breakSeconds, BREAK_SECONDS, `${where}: breakSeconds`),
  };
}

async function tuneIn(
  tune: unknown,
  id: string,
  where: string,
  titleOf: (title: string) => string | null,
): Promise<SetTune> {
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
    ...(tune.harp === undefined
      ? {}
      : { harp: await harpOfText(textOf(tune.harp, "", `${where}: harp`), where) }),
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
