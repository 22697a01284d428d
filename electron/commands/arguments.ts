import { parseArgs } from "node:util";
import { CommandError } from "./command-error.ts";

/** A command's words and its `--name value` options. */
export interface Arguments {
  readonly words: readonly string[];
  readonly options: Readonly<Record<string, string>>;
}

/**
 * Splits a command's arguments.
 *
 * @param names the options the command knows, each taking one value
 * @param flags those that take none: given, their value is "yes"
 * @throws CommandError naming an unknown option or one without a value
 */
export function readArguments(
  args: readonly string[],
  names: readonly string[],
  flags: readonly string[] = [],
): Arguments {
  const known = Object.fromEntries([
    ...names.map((name) => [name, { type: "string" as const }] as const),
    ...flags.map((name) => [name, { type: "boolean" as const }] as const),
  ]);
  for (const arg of args) {
    const name = arg.startsWith("--") ? (arg.slice(2).split("=")[0] ?? "") : null;
    if (name !== null && !Object.hasOwn(known, name))
      throw new CommandError(`no option --${name}; ${optionList(Object.keys(known))}`);
  }
  try {
    const { values, positionals } = parseArgs({
      args: joinNegativeNumbers(args),
      options: known,
      allowPositionals: true,
      strict: true,
    });
    const options = Object.entries(values).flatMap(([name, value]) => {
      if (value === undefined || value === false) return [];
      return [[name, value === true ? "yes" : String(value)] as const];
    });
    return { words: positionals, options: Object.fromEntries(options) };
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    throw new CommandError(message.split("\n")[0]?.split(". ")[0] ?? "the arguments cannot be read");
  }
}

const optionList = (names: readonly string[]) =>
  names.length === 0 ? "this command has none" : `there are ${names.map((name) => `--${name}`).join(", ")}`;

/** `--latency-ms -20` means a negative value, not another option. */
function joinNegativeNumbers(args: readonly string[]): string[] {
  const joined: string[] = [];
  for (const arg of args) {
    const before = joined.at(-1);
    if (/^-\d/.test(arg) && before?.startsWith("--") && !before.includes("=")) {
      joined[joined.length - 1] = `${before}=${arg}`;
    } else joined.push(arg);
  }
  return joined;
}

/** A number option within bounds, or its usual value when absent. */
export function numberOption(
  args: Arguments,
  name: string,
  usual: number,
  bounds: { readonly low: number; readonly high: number; readonly whole?: boolean },
): number {
  const text = args.options[name];
  if (text === undefined) return usual;
  const value = text.trim() === "" ? Number.NaN : Number(text);
  const fits = Number.isFinite(value) && value >= bounds.low && value <= bounds.high;
  if (!fits || (bounds.whole && !Number.isInteger(value))) {
    const kind = bounds.whole ? "a whole number" : "a number";
    throw new CommandError(`--${name} must be ${kind} from ${bounds.low} to ${bounds.high}, not "${text}"`);
  }
  return value;
}

/** One of a few words, or the usual one when absent. */
export function choiceOption<T extends string>(
  args: Arguments,
  name: string,
  usual: T,
  choices: readonly T[],
): T {
  const text = args.options[name];
  if (text === undefined) return usual;
  const found = choices.find((choice) => choice === text);
  if (found === undefined) {
    throw new CommandError(`--${name} must be one of ${choices.join(", ")}, not "${text}"`);
  }
  return found;
}

/** @throws CommandError unless exactly the named files were given */
export function fileWords(args: Arguments, usage: readonly string[]): readonly string[] {
  if (args.words.length !== usage.length) {
    throw new CommandError(
      `expected ${usage.join(" ")}, got ${args.words.length === 0 ? "nothing" : args.words.join(" ")}`,
    );
  }
  return args.words;
}
