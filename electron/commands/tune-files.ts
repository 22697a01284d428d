import { SEVEN_MODES } from "../../core/pitch/modes.ts";
import { badTuneInWords } from "../../core/tune/bad-tune-words.ts";
import { MIDI_GRIDS } from "../../core/tune/read-midi.ts";
import {
  type ReadTuneFile,
  readTunes,
  type TuneChoices,
  type TuneFileKind,
  tuneFileKind,
} from "../../core/tune/read-tunes.ts";
import type { BadTune, Tune } from "../../core/tune/tune.ts";
import { type Arguments, choiceOption, numberOption } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { readTuneBytes } from "./files.ts";

/** The options that say how a file of tunes is read, and which tune is meant. */
export const TUNE_OPTIONS: readonly string[] = ["number", "part", "voice", "track", "grid", "upbeat", "mode"];
/** The kinds an option goes with; the rest go with all. */
const GOES_WITH: Readonly<Record<string, readonly TuneFileKind[]>> = {
  part: ["MusicXML", "compressed MusicXML"],
  voice: ["ABC", "MusicXML", "compressed MusicXML"],
  track: ["MIDI"],
  grid: ["MIDI"],
  upbeat: ["MIDI"],
  mode: ["MIDI"],
};
/** Crotchets, as the reader has it. */
const MOST_UPBEAT = 16;
const MOST_TRACKS = 100_000;
const MOST_NUMBER = 1_000_000_000;

/** What was read of a file. */
export type TuneFile = Extract<ReadTuneFile, { kind: "tunes" }> & { readonly path: string };

/** @throws CommandError with one line naming the file and what is wrong, or an option that does not go with its kind */
export async function readTuneFile(path: string, args: Arguments): Promise<TuneFile> {
  const bytes = await readTuneBytes(path);
  refuseStrangers(path, bytes, args);
  const read = readTunes(bytes, choicesOf(args));
  if (read.kind === "unreadable") throw new CommandError(`${path}: ${read.reason}`);
  return { ...read, path };
}

function refuseStrangers(path: string, bytes: Uint8Array, args: Arguments): void {
  const kind = tuneFileKind(bytes);
  if (kind === null) return;
  for (const [name, kinds] of Object.entries(GOES_WITH)) {
    if (args.options[name] === undefined || kinds.includes(kind)) continue;
    const wanted = kinds.filter((one) => one !== "compressed MusicXML").join(" and ");
    throw new CommandError(`--${name} goes with ${wanted}, and ${path} is ${kind}`);
  }
}

function choicesOf(args: Arguments): TuneChoices {
  const { part, voice, track, grid, upbeat, mode } = args.options;
  return {
    ...(part === undefined ? {} : { part }),
    ...(voice === undefined ? {} : { voice }),
    ...(track === undefined
      ? {}
      : { track: numberOption(args, "track", 0, { low: 0, high: MOST_TRACKS, whole: true }) }),
    ...(grid === undefined ? {} : { grid: choiceOption(args, "grid", "1/16", MIDI_GRIDS) }),
    ...(upbeat === undefined
      ? {}
      : { upbeatCrotchets: numberOption(args, "upbeat", 0, { low: 0, high: MOST_UPBEAT }) }),
    ...(mode === undefined ? {} : { mode: choiceOption(args, "mode", "major", SEVEN_MODES) }),
  };
}

/**
 * The tune of `--number`, or the first of the file.
 *
 * @throws CommandError naming file, tune, line and column where that tune could not be read, or the numbers there are
 */
export function tuneOf(file: TuneFile, args: Arguments): Tune {
  const [only] = tunesOf(file, args);
  const firstBad = args.options.number === undefined ? file.bad[0] : undefined;
  if (only !== undefined && !(firstBad !== undefined && comesBefore(firstBad, only))) return only;
  throw new CommandError(
    `${file.path}: ${firstBad === undefined ? "holds no tune" : badTuneInWords(firstBad)}`,
  );
}

/**
 * The tune of `--number`, or all of the file.
 *
 * @throws CommandError as `tuneOf` does
 */
export function tunesOf(file: TuneFile, args: Arguments): readonly Tune[] {
  if (args.options.number === undefined) return file.tunes;
  const number = numberOption(args, "number", 1, { low: 0, high: MOST_NUMBER, whole: true });
  const found = file.tunes.filter((tune) => tune.number === number);
  const [first] = found;
  if (first !== undefined) return [first];
  const bad = file.bad.find((one) => one.number === number);
  if (bad !== undefined) throw new CommandError(`${file.path}: ${badTuneInWords(bad)}`);
  throw new CommandError(`${file.path}: there is no tune ${number}; ${numbersIn(file)}`);
}

const MOST_TOLD = 12;

function numbersIn({ tunes }: TuneFile): string {
  const numbers = tunes.map((tune) => tune.number);
  const told = numbers.slice(0, MOST_TOLD).join(", ");
  if (numbers.length <= MOST_TOLD) return `there ${numbers.length === 1 ? "is" : "are"} ${told}`;
  return `there are ${told} and ${numbers.length - MOST_TOLD} more`;
}

const comesBefore = (bad: BadTune, tune: Tune): boolean =>
  bad.place !== null && bad.place.line < (tune.notes[0]?.place?.line ?? 0);
