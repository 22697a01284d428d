import { resolve } from "node:path";
import { tuneSheet } from "../../core/exercise/tune-sheet.ts";
import { writeWhole } from "../write-whole.ts";
import { choiceOption, fileWords, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { fileTrouble } from "./files.ts";
import type { Io } from "./io.ts";
import { lieToJson } from "./path.ts";
import { PLAN_OPTIONS, planOption } from "./plan-options.ts";
import { PAPER_NAMES, sheetHtml } from "./sheet-html.ts";
import { readTuneFile, TUNE_OPTIONS, tuneOf } from "./tune-files.ts";
import { tuneHeading } from "./tune-json.ts";

/** Writes a tune as a page to print: staff, tab and breath marks; prints what is on it. */
export async function sheet(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, [...TUNE_OPTIONS, ...PLAN_OPTIONS, "paper"]);
  const [path = "", outPath = ""] = fileWords(read, ["FILE", "OUT.html"]);
  if (resolve(path) === resolve(outPath)) throw new CommandError(`${outPath}: is the tune itself`);
  const paper = choiceOption(read, "paper", "a4", PAPER_NAMES);
  const file = await readTuneFile(path, read);
  const tune = tuneOf(file, read);
  const plan = await planOption(tune, read);
  const html = sheetHtml(tune.title, tuneSheet(tune, plan), paper);
  try {
    await writeWhole(outPath, new TextEncoder().encode(html));
  } catch (error) {
    throw new CommandError(`${outPath}: ${fileTrouble(error, "cannot be written")}`);
  }
  const printed = {
    schema: "reedpath.sheet",
    version: 1,
    tune: tuneHeading(file, tune),
    ...lieToJson(tune, plan),
    missing: plan.path.missing.length,
    paper,
  };
  io.stdout(`${JSON.stringify(printed, null, 2)}\n`);
}
