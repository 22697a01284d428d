import { existsSync, realpathSync } from "node:fs";
import { availableParallelism } from "node:os";
import path from "node:path";
import { installedSoundFonts, type SoundFont, soundFont } from "../corpus/soundfont.ts";
import { type Engine, isPeer, PEERS } from "../engines/engine.ts";

export const USAGE = `npm run bench:listen -- [options]
  --seed N            seed of the takes, 1000 where none is said; several give a column each
  --soundfont FILE    play the recorded reeds from this instead of the installed SoundFonts; several allowed
  --engine NAME=CMD   a further engine: a command in which {} stands for the WAV, printing JSON as \`listen\` does
  --peers A,B|none    of ${Object.keys(PEERS).join(", ")}; all where not said
  --filter REGEX      only takes whose name matches
  --judge NAME        the engine whose figures are printed; reedpath where not said
  --jobs N            takes at a time
  --no-speed          leaves out what is timed
  --details           every group of takes and every engine
  --json FILE         all of it as data`;

export interface Options {
  readonly seeds: readonly number[];
  readonly fonts: readonly SoundFont[];
  /** Besides this program. */
  readonly engines: readonly Engine[];
  readonly filter: RegExp;
  readonly judge: string;
  readonly jobs: number;
  readonly speed: boolean;
  readonly details: boolean;
  /** Absolute path. */
  readonly json: string | null;
}

/** A wrong option, in one line. */
export class UsageError extends Error {}

const WITH_VALUE = [
  "--seed",
  "--soundfont",
  "--engine",
  "--peers",
  "--filter",
  "--judge",
  "--jobs",
  "--json",
] as const;
const ALONE = ["--no-speed", "--details"] as const;

/**
 * @param standing folder the relative file names are meant from
 * @throws UsageError naming the option and what is wrong with it
 */
export function readOptions(argv: readonly string[], standing: string): Options {
  const { values, flags } = split(argv);
  const all = (name: (typeof WITH_VALUE)[number]) => values.get(name) ?? [];
  const last = (name: (typeof WITH_VALUE)[number]) => all(name).at(-1) ?? null;
  const seeds = all("--seed").map((text) => wholeNumber("--seed", text, 0));
  const fonts = all("--soundfont").map((file) => fontAt(path.resolve(standing, file)));
  const engines = [...peersOf(last("--peers")), ...all("--engine").map(engineOf)];
  const names = ["reedpath", ...engines.map(({ name }) => name)];
  const twice = names.find((name, n) => names.indexOf(name) !== n);
  if (twice !== undefined) throw new UsageError(`there are two engines named "${twice}"`);
  const json = last("--json");
  const jobs = last("--jobs");
  return {
    seeds: seeds.length > 0 ? [...new Set(seeds)] : [1000],
    fonts: fonts.length > 0 ? fonts : installedSoundFonts(),
    engines,
    filter: patternOf(last("--filter") ?? "."),
    judge: last("--judge") ?? "reedpath",
    jobs: jobs === null ? Math.max(1, availableParallelism()) : wholeNumber("--jobs", jobs, 1),
    speed: !flags.has("--no-speed"),
    details: flags.has("--details"),
    json: json === null ? null : path.resolve(standing, json),
  };
}

function split(argv: readonly string[]) {
  const values = new Map<string, string[]>();
  const flags = new Set<string>();
  for (let i = 0; i < argv.length; i++) {
    const name = argv[i] ?? "";
    if ((ALONE as readonly string[]).includes(name)) flags.add(name);
    else if ((WITH_VALUE as readonly string[]).includes(name)) {
      const value = argv[++i];
      if (value === undefined) throw new UsageError(`${name} needs a value`);
      values.set(name, [...(values.get(name) ?? []), value]);
    } else throw new UsageError(`there is no option "${name}"`);
  }
  return { values, flags };
}

function wholeNumber(name: string, text: string, least: number): number {
  const value = Number(text);
  if (!/^\d+$/.test(text) || value < least || value > 4e9) {
    throw new UsageError(`${name} takes a whole number from ${least} on, not "${text}"`);
  }
  return value;
}

function fontAt(file: string): SoundFont {
  if (!existsSync(file)) throw new UsageError(`--soundfont ${file}: there is no such file`);
  return soundFont(realpathSync(file));
}

function peersOf(text: string | null): Engine[] {
  if (text === "none") return [];
  const names = text === null ? Object.keys(PEERS) : text.split(",");
  return names.map((name) => {
    if (!isPeer(name)) {
      throw new UsageError(`there is no peer "${name}"; there are ${Object.keys(PEERS).join(", ")}`);
    }
    return { kind: "peer", peer: name, name };
  });
}

function engineOf(text: string): Engine {
  const [, name, command] = /^([^=]+)=(.+)$/s.exec(text) ?? [];
  if (name === undefined || command === undefined || !command.includes("{}")) {
    throw new UsageError(`--engine takes NAME='command with {} for the WAV', not "${text}"`);
  }
  return { kind: "command", name, command };
}

function patternOf(text: string): RegExp {
  try {
    return new RegExp(text);
  } catch {
    throw new UsageError(`--filter: "${text}" is no regular expression`);
  }
}
