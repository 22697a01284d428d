import {
  type Harp,
  harpInKey,
  KEYS_BY_REGISTER,
  REGISTERS,
  soundingRange,
} from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { readLayout } from "../../core/instrument/layout-json.ts";
import { readReedCents } from "../../core/instrument/reed-cents-json.ts";
import { layoutOfWords, STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { EQUAL, type Temperament } from "../../core/instrument/temperament.ts";
import { spellMode } from "../../core/pitch/modes.ts";
import { noteName } from "../../core/pitch/note-names.ts";
import { readScala } from "../../core/pitch/scala-scale.ts";
import { SCHEME_IDS } from "../../core/pitch/tuning-schemes.ts";
import { hz } from "../../core/units.ts";
import { type Arguments, choiceOption, numberOption } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { readTextFile } from "./files.ts";

/** What the options that choose a harp are called where a command has more than one harp. */
export interface HarpOptionNames {
  readonly layout: string;
  readonly key: string;
  readonly register: string;
  readonly a4: string;
  readonly temperament: string;
}

const USUAL_NAMES: HarpOptionNames = {
  layout: "layout",
  key: "key",
  register: "register",
  a4: "a4",
  temperament: "temperament",
};

/** The options that choose a harp, for every command that needs one. */
export const HARP_OPTIONS: readonly string[] = Object.values(USUAL_NAMES);

/**
 * The harp of `--layout`, `--key`, `--register`, `--a4` and `--temperament`; a standard C harp where nothing is said.
 *
 * @throws CommandError with one line naming the option, or the file and what is wrong with it
 */
export async function harpOption(args: Arguments, names: HarpOptionNames = USUAL_NAMES): Promise<Harp> {
  const layout = await layoutOption(args, names.layout);
  const key = args.options[names.key] ?? "C";
  const a4 = hz(numberOption(args, names.a4, 440, { low: 400, high: 480 }));
  const register = choiceOption(args, names.register, "usual", REGISTERS);
  if (harpInKey(layout, key) === null)
    throw new CommandError(`--${names.key} "${key}" is not a key; there are ${KEYS_BY_REGISTER.join(", ")}`);
  const harp = harpInKey(layout, key, a4, register);
  if (harp === null) {
    throw new CommandError(
      `--${names.register} ${register}: there is no ${register} ${key}; low ones go from C to F#, high is G alone`,
    );
  }
  const temperament = await temperamentOption(args, layout, names.temperament);
  return temperament.kind === "equal" ? harp : { ...harp, temperament };
}

/**
 * The layout of `--layout`: an id or name of the catalogue, or the path of a layout file.
 *
 * @throws CommandError naming what is not known or cannot be read
 */
export async function layoutOption(args: Arguments, name: string = USUAL_NAMES.layout): Promise<Layout> {
  const text = args.options[name] ?? "standard";
  const known = layoutOfWords(text);
  if (known !== null) return known;
  if (!isPath(text, ".json")) {
    const ids = STOCK_LAYOUTS.map((one) => one.id).join(", ");
    throw new CommandError(`--${name} "${text}" is not known; there is ${ids}, or the path of a layout file`);
  }
  const read = readLayout(await readTextFile(text));
  if (read.kind === "unreadable") throw new CommandError(`${text}: ${read.reason}`);
  return read.layout;
}

/**
 * Of `--temperament`: equal, a scheme, a Scala scale, or the player's own cents for each reed of the layout.
 *
 * @throws CommandError naming what is not known or cannot be read
 */
export async function temperamentOption(
  args: Arguments,
  layout: Layout,
  name: string = USUAL_NAMES.temperament,
): Promise<Temperament> {
  const text = args.options[name] ?? "equal";
  if (text === "equal") return EQUAL;
  const scheme = SCHEME_IDS.find((id) => id === text);
  if (scheme !== undefined) return { kind: "scheme", scheme };
  if (text.toLowerCase().endsWith(".json")) return ownCents(text, layout);
  if (!isPath(text, ".scl")) {
    const schemes = SCHEME_IDS.join(", ");
    throw new CommandError(
      `--${name} "${text}" is not known; there is equal, ${schemes}, or the path of a Scala file (.scl) or of your own cents for each reed (.json)`,
    );
  }
  const read = readScala(await readTextFile(text));
  if (read.kind === "unreadable") throw new CommandError(`${text}: ${read.reason}`);
  return { kind: "scale", ...read.scale };
}

async function ownCents(path: string, layout: Layout): Promise<Temperament> {
  const read = readReedCents(await readTextFile(path), layout);
  if (read.kind === "unreadable") throw new CommandError(`${path}: ${read.reason}`);
  return read.temperament;
}

const isPath = (text: string, ending: string) => text.toLowerCase().endsWith(ending) || /[/\\]/.test(text);

/** A harp as the instrument commands print it. */
export function harpToJson(harp: Harp) {
  const { low, high } = soundingRange(harp);
  const spelling = spellMode(harp.key, "major");
  return {
    layout: harp.layout.id,
    layoutName: harp.layout.name,
    key: harp.key,
    keyNote: harp.keyNote,
    a4: harp.a4,
    temperament: harp.temperament ?? EQUAL,
    lowest: noteName(low, spelling),
    highest: noteName(high, spelling),
  };
}
