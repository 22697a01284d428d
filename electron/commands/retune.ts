import { resolve } from "node:path";
import type { Harp } from "../../core/instrument/harp.ts";
import { readReedCents } from "../../core/instrument/reed-cents-json.ts";
import { MEASURED_SCHEMA, readMeasured } from "../../core/workshop/measure/measured-json.ts";
import { benchSheet } from "../../core/workshop/retune/bench-sheet.ts";
import { MOST_OFF_CENTS, withReadings } from "../../core/workshop/retune/measured-harp.ts";
import { LEAST_PASSES, MOST_PASSES } from "../../core/workshop/retune/passes.ts";
import { LIMIT_BOUNDS, type RetuningLimits, USUAL_LIMITS } from "../../core/workshop/retune/reed-work.ts";
import { type PlanRules, retuningPlan } from "../../core/workshop/retune/retuning-plan.ts";
import { writeWhole } from "../write-whole.ts";
import { type Arguments, choiceOption, fileWords, numberOption, readArguments } from "./arguments.ts";
import { benchSheetHtml } from "./bench-sheet-html.ts";
import { CommandError } from "./command-error.ts";
import { fileTrouble, readTextFile } from "./files.ts";
import { type HarpOptionNames, harpOption } from "./harp-option.ts";
import type { Io } from "./io.ts";
import { BUY_OPTIONS, buy } from "./retune-buy.ts";
import { planToJson } from "./retune-json.ts";
import { PAPER_NAMES } from "./sheet-html.ts";

const FROM: HarpOptionNames = {
  layout: "from",
  key: "from-key",
  register: "from-register",
  a4: "from-a4",
  temperament: "from-temperament",
};
const TO: HarpOptionNames = {
  layout: "to",
  key: "to-key",
  register: "to-register",
  a4: "a4",
  temperament: "temperament",
};
const PLAN_ONLY = [
  FROM.layout,
  FROM.key,
  FROM.register,
  "measured",
  "unmeasured",
  "passes",
  "sheet",
  "paper",
];
const OF_BOTH = [...Object.values(TO), FROM.a4, FROM.temperament, "most-semitones", "tolerance"];

/** Prints how one harp becomes another, reed by reed, and writes the bench sheet; with `--buy`, which harp to begin with. */
export async function retune(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, [...OF_BOTH, ...PLAN_ONLY, ...BUY_OPTIONS], ["buy"]);
  fileWords(read, []);
  if (read.options.to === undefined) throw new CommandError("--to is missing: the layout that is wanted");
  const limits = limitsOption(read);
  if (read.options.buy !== undefined) {
    refuse(read, PLAN_ONLY, "says what is retuned, but --buy looks for that");
    return buy(read, { to: TO, from: FROM }, limits, io);
  }
  refuse(read, BUY_OPTIONS, "belongs to --buy");
  await plan(read, limits, io);
}

function refuse(read: Arguments, names: readonly string[], why: string): void {
  const given = names.find((name) => read.options[name] !== undefined);
  if (given !== undefined) throw new CommandError(`--${given} ${why}`);
}

async function plan(read: Arguments, limits: RetuningLimits, io: Io): Promise<void> {
  for (const name of [FROM.key, TO.key])
    if (read.options[name] === undefined)
      throw new CommandError(`--${name} is missing: a key, such as G; --buy finds the harp to begin with`);
  const paper = choiceOption(read, "paper", "a4", PAPER_NAMES);
  const to = await harpOption(read, TO);
  const from = await measuredOption(read, await harpOption(read, FROM));
  const made = retuningPlan(from, to, rulesOption(read, limits));
  if (made.kind === "not possible") throw new CommandError(made.reason);
  const out = read.options.sheet;
  if (out !== undefined) await writeSheet(out, read, benchSheetHtml(benchSheet(made.plan), paper));
  const sheet = out === undefined ? null : { paper };
  io.stdout(`${JSON.stringify({ ...planToJson(made.plan), sheet }, null, 2)}\n`);
}

const limitsOption = (read: Arguments): RetuningLimits => ({
  mostSemitones: numberOption(read, "most-semitones", USUAL_LIMITS.mostSemitones, LIMIT_BOUNDS.mostSemitones),
  toleranceCents: numberOption(read, "tolerance", USUAL_LIMITS.toleranceCents, LIMIT_BOUNDS.toleranceCents),
});

function rulesOption(read: Arguments, limits: RetuningLimits): PlanRules {
  const passes = numberOption(read, "passes", LEAST_PASSES, {
    low: LEAST_PASSES,
    high: MOST_PASSES,
    whole: true,
  });
  const unmeasured = choiceOption(read, "unmeasured", "refuse", ["refuse", "nominal"]);
  return { ...limits, passes, unmeasured: unmeasured === "refuse" ? "refuse" : "take as they should sound" };
}

/**
 * The harp with the readings of `--measured`: what `measure` prints, or a file of cents for each reed.
 *
 * @throws CommandError naming the file and the reed
 */
async function measuredOption(read: Arguments, harp: Harp): Promise<Harp> {
  const path = read.options.measured;
  if (path === undefined) return harp;
  const text = await readTextFile(path);
  if (text.includes(`"${MEASURED_SCHEMA}"`)) {
    const reeds = readMeasured(text, harp, MOST_OFF_CENTS);
    if (reeds.kind === "unreadable") throw new CommandError(`${path}: ${reeds.reason}`);
    return { ...harp, reedOffsets: reeds.offsets };
  }
  const cents = readReedCents(text, harp.layout, MOST_OFF_CENTS);
  if (cents.kind === "unreadable") throw new CommandError(`${path}: ${cents.reason}`);
  return withReadings(harp, cents.temperament.holes);
}

async function writeSheet(out: string, read: Arguments, html: string): Promise<void> {
  const files = [read.options.measured, read.options.from, read.options.to];
  if (files.some((file) => file !== undefined && resolve(file) === resolve(out)))
    throw new CommandError(`--sheet ${out}: is what the plan is made of`);
  try {
    await writeWhole(out, new TextEncoder().encode(html));
  } catch (error) {
    throw new CommandError(`--sheet ${out}: ${fileTrouble(error, "cannot be written")}`);
  }
}
