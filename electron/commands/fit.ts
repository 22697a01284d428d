import { type Fit, fitTunes } from "../../core/path/fit.ts";
import { runToEnd } from "../../core/path/long-work.ts";
import { type Arguments, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { HARPS_OPTIONS, harpsOption, shortHarp } from "./harps-option.ts";
import type { Io } from "./io.ts";
import { abilitiesOption, weightsOption } from "./plan-options.ts";
import { readTuneFile, TUNE_OPTIONS, type TuneFile, tunesOf } from "./tune-files.ts";
import { leftOutOf, tuneHeading } from "./tune-json.ts";

const OCTAVE = 12;
const USUAL_BEST = 5;
const MOST_BEST = 1000;

/** Prints for every tune the harps, positions and octaves it lies best in, and for every harp how many tunes it plays. */
export async function fit(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, [
    ...TUNE_OPTIONS,
    ...HARPS_OPTIONS,
    "bends",
    "overbends",
    "weights",
    "best",
  ]);
  const best = numberOption(read, "best", USUAL_BEST, { low: 1, high: MOST_BEST, whole: true });
  const harps = await harpsOption(read);
  const options = { abilities: abilitiesOption(read), weights: await weightsOption(read), best };
  const { files, tunes } = await repertoire(read);
  const report = runToEnd(
    fitTunes(
      tunes.map(({ tune }) => tune),
      harps,
      options,
    ),
  );
  const printed = {
    schema: "reedpath.fit",
    version: 1,
    harpsTried: harps.length,
    tunes: tunes.map(({ file, tune }, place) => ({
      ...tuneHeading(file, tune),
      notes: tune.notes.length,
      best: (report.best[place] ?? []).map(fitToJson),
    })),
    harps: report.harps.map(({ harp, playable, plain }) => ({ ...shortHarp(harp), playable, plain })),
    leftOut: files.flatMap(leftOutOf),
  };
  io.stdout(`${JSON.stringify(printed, null, 2)}\n`);
}

/** All tunes of all files, or of each the one of `--number`. @throws CommandError where a file cannot be read or no tune is left */
export async function repertoire(args: Arguments) {
  if (args.words.length === 0) throw new CommandError("expected FILE…, got nothing");
  const files: TuneFile[] = [];
  for (const path of args.words) files.push(await readTuneFile(path, args));
  const tunes = files.flatMap((file) => tunesOf(file, args).map((tune) => ({ file, tune })));
  if (tunes.length > 0) return { files, tunes };
  const [first] = files.flatMap(leftOutOf);
  throw new CommandError(first ?? `${args.words.join(", ")}: no tune in it`);
}

const fitToJson = ({ harp, register: _, shift, ...rest }: Fit) => ({
  ...shortHarp(harp),
  octaves: shift / OCTAVE,
  ...rest,
});
