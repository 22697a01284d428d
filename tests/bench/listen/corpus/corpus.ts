import { createHash } from "node:crypto";
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import path from "node:path";
import { type Recipe, recipes } from "./recipes.ts";
import { type RecordedRecipe, recordedRecipes, recordTake } from "./recorded-take.ts";
import { ACCORDION, fluidsynthVersion, HARMONICA, melodicPrograms, type SoundFont } from "./soundfont.ts";
import { syntheticTake } from "./synthetic-take.ts";
import type { Truth } from "./truth.ts";
import { writeSound } from "./wav-file.ts";

/** A take that is to be made, or has been: its files are `base` with .wav and .json. */
export interface PlannedTake {
  readonly name: string;
  readonly group: string;
  readonly base: string;
  readonly recipe:
    | { readonly kind: "synthetic"; readonly of: Recipe }
    | { readonly kind: "recorded"; readonly of: RecordedRecipe };
}

export interface Plan {
  readonly takes: readonly PlannedTake[];
  /** One line for each thing left out. */
  readonly leftOut: readonly string[];
}

/**
 * The takes of a seed.
 *
 * @param folder where corpora are kept; those of other versions of the makers are thrown away
 * @param makers folder with the sources of the makers
 */
export function planCorpus(
  seed: number,
  fonts: readonly SoundFont[],
  wanted: RegExp,
  folder: string,
  makers: string,
): Plan {
  const version = versionOf(makers);
  mkdirSync(folder, { recursive: true });
  for (const old of readdirSync(folder)) {
    if (old !== version) rmSync(path.join(folder, old), { recursive: true, force: true });
  }
  const home = path.join(folder, version, `seed-${seed}`);
  mkdirSync(home, { recursive: true });
  const synthetic = recipes(seed).map((of) => {
    const { name, group } = of;
    return { name, group, base: path.join(home, name), recipe: { kind: "synthetic", of } as const };
  });
  const { takes, leftOut } = planRecorded(seed, fonts, home);
  const all: PlannedTake[] = [...synthetic, ...takes];
  return { takes: all.filter(({ name }) => wanted.test(name)), leftOut };
}

function planRecorded(seed: number, fonts: readonly SoundFont[], home: string): Plan {
  const fluidsynth = fluidsynthVersion();
  const without = (why: string) => ({
    takes: [],
    leftOut: [`takes of recorded reeds (sf_*) are left out: ${why}`],
  });
  if (fluidsynth === null) return without("there is no fluidsynth on the path (Debian package fluidsynth)");
  if (fonts.length === 0) {
    return without("no SoundFont is installed (Debian package fluid-soundfont-gm) or given with --soundfont");
  }
  const takes: PlannedTake[] = [];
  const leftOut: string[] = [];
  for (const font of fonts) {
    const programs = melodicPrograms(font.file);
    if (programs === null) {
      leftOut.push(`${font.file}: is no SoundFont`);
      continue;
    }
    const missing = [HARMONICA, ACCORDION].filter((program) => !programs.has(program));
    if (missing.length > 0) leftOut.push(`${font.file}: has no program ${missing.join(", ")} in bank 0`);
    const { size, mtimeMs } = statSync(font.file);
    const sound = shortHash(`${font.file} ${size} ${mtimeMs} ${fluidsynth}`);
    for (const of of recordedRecipes(font, programs, seed)) {
      const base = path.join(home, `${of.name}-${sound}`);
      takes.push({ name: of.name, group: of.group, base, recipe: { kind: "recorded", of } });
    }
  }
  return { takes, leftOut };
}

/** What the makers' sources hash to: a corpus made by others is not this one. */
function versionOf(makers: string): string {
  return shortHash(
    readdirSync(makers)
      .sort()
      .map((name) => readFileSync(path.join(makers, name), "utf8"))
      .join("\n"),
  );
}

const shortHash = (text: string) => createHash("sha256").update(text).digest("hex").slice(0, 12);

export const isMade = ({ base }: PlannedTake) => existsSync(`${base}.json`);

/** Makes a take. Its truth is put in place last, so that a take that was broken off counts as not made. */
export function makeTake({ base, recipe }: PlannedTake): void {
  const truth = recipe.kind === "synthetic" ? writeSynthetic(recipe.of, base) : recordTake(recipe.of, base);
  writeFileSync(`${base}.part`, JSON.stringify(truth));
  renameSync(`${base}.part`, `${base}.json`);
}

function writeSynthetic(recipe: Recipe, base: string): Truth {
  const { samples, truth } = syntheticTake(recipe);
  writeSound(`${base}.wav`, samples);
  return truth;
}

export const readTruth = ({ base }: PlannedTake): Truth =>
  JSON.parse(readFileSync(`${base}.json`, "utf8")) as Truth;
