import {
  type Harp,
  harpInKey,
  harpName,
  KEYS_BY_REGISTER,
  REGISTERS,
  type Register,
  registerOf,
} from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { layoutOfWords, STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import { STANDARD_A4 } from "../../core/pitch/equal-temperament.ts";
import { pitchClassOfName } from "../../core/pitch/note-names.ts";
import { quoted } from "../../core/reading/quoting.ts";
import type { Arguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { layoutOption } from "./harp-option.ts";

/** The options that name several harps. */
export const HARPS_OPTIONS: readonly string[] = ["layouts", "keys", "registers"];

/**
 * The harps of `--layouts`, `--keys` and `--registers`, each a list with commas: all layouts of the catalogue in all keys and
 * the usual register where nothing is said.
 *
 * @throws CommandError with one line naming what is not known, or that there is no such harp
 */
export async function harpsOption(args: Arguments): Promise<readonly Harp[]> {
  const keys = listOf(args, "keys") ?? KEYS_BY_REGISTER;
  const wrong = keys.find((key) => pitchClassOfName(key) === null);
  if (wrong !== undefined)
    throw new CommandError(`--keys: "${wrong}" is not a key; there are ${KEYS_BY_REGISTER.join(", ")}`);
  const registers = (listOf(args, "registers") ?? ["usual"]).map(registerOfWord);
  const harps = harpsToTry({ layouts: await layoutsOption(args), keys, registers });
  if (harps.length === 0) {
    throw new CommandError(
      `no harp is made in ${keys.join(", ")} ${registers.join(", ")}: low ones go from C to F#, high is G alone`,
    );
  }
  return harps;
}

/** The layouts of a list, all of the catalogue where nothing is said. @throws CommandError naming what is not known */
export async function layoutsOption(args: Arguments, name: string = "layouts"): Promise<readonly Layout[]> {
  const names = listOf(args, name);
  if (names === null) return STOCK_LAYOUTS;
  const layouts: Layout[] = [];
  for (const one of names) layouts.push(await layoutOption({ words: [], options: { [name]: one } }, name));
  return layouts;
}

function registerOfWord(word: string): Register {
  const found = REGISTERS.find((register) => register === word);
  if (found === undefined)
    throw new CommandError(`--registers: "${word}" is none; there are ${REGISTERS.join(", ")}`);
  return found;
}

/** Words between commas; null where the option is absent. @throws CommandError where it names nothing */
export function listOf(args: Arguments, name: string): readonly string[] | null {
  const text = args.options[name];
  if (text === undefined) return null;
  const words = text
    .split(",")
    .map((word) => word.trim())
    .filter((word) => word !== "");
  if (words.length === 0) throw new CommandError(`--${name} names nothing: a list such as "A,B" is wanted`);
  return [...new Set(words)];
}

/**
 * The harps of `--owned`, "standard G, standard A low": layout, key and, where it is not the usual one, register.
 *
 * @throws CommandError naming the one that is not understood
 */
export async function ownedOption(args: Arguments): Promise<readonly Harp[]> {
  const harps: Harp[] = [];
  for (const text of listOf(args, "owned") ?? []) harps.push(await harpOfText(text, "--owned"));
  return harps;
}

/** A harp as it is said in words: "standard G low". @param where names the place in the message. @throws CommandError */
export async function harpOfText(text: string, where: string): Promise<Harp> {
  const said = harpWords(text);
  const layout = await layoutOption({ words: [], options: { layout: said.layout } });
  return harpSaid(layout, said, text, where);
}

/**
 * As `harpOfText`, of a layout of the catalogue alone: a file from elsewhere names no other file to open.
 *
 * @throws CommandError
 */
export function knownHarp(text: string, where: string): Harp {
  const said = harpWords(text);
  const layout = layoutOfWords(said.layout);
  if (layout === null) throw new CommandError(`${where}: ${quoted(text)} is of no layout of the catalogue`);
  return harpSaid(layout, said, text, where);
}

interface HarpWords {
  readonly layout: string;
  readonly key: string;
  readonly register: Register;
}

function harpWords(text: string): HarpWords {
  const words = text.trim().split(/\s+/);
  const register = REGISTERS.find((one) => one === words.at(-1));
  const rest = register === undefined ? words : words.slice(0, -1);
  return { layout: rest.slice(0, -1).join(" "), key: rest.at(-1) ?? "", register: register ?? "usual" };
}

function harpSaid(layout: Layout, { key, register }: HarpWords, text: string, where: string): Harp {
  const harp = harpInKey(layout, key, STANDARD_A4, register);
  if (harp === null)
    throw new CommandError(
      `${where}: ${quoted(text)} is no harp: say layout, key and register, as in "standard G low"`,
    );
  return harp;
}

export const shortHarp = (harp: Harp) => ({
  name: harpName(harp),
  layout: harp.layout.id,
  key: harp.key,
  register: registerOf(harp),
});
