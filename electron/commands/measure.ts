import { BREATH_CAUTION } from "../../core/exercise/caution.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import { BREATHS } from "../../core/instrument/layout.ts";
import { whyTooLong } from "../../core/listen/take-limits.ts";
import { midiToHz } from "../../core/pitch/equal-temperament.ts";
import { knownReeds } from "../../core/score/known-reeds.ts";
import { pairBeats, pairOf, type ReedPair } from "../../core/workshop/measure/beats.ts";
import { targetMidiOf } from "../../core/workshop/measure/harp-sounds.ts";
import { heardBeats } from "../../core/workshop/measure/heard-beats.ts";
import { measureTake } from "../../core/workshop/measure/measure-take.ts";
import { heardInWords, intervalInWords } from "../../core/workshop/measure/measure-words.ts";
import { toMeasuredJson } from "../../core/workshop/measure/measured-json.ts";
import { emptyMeasurement } from "../../core/workshop/measure/measurement.ts";
import { reedResults } from "../../core/workshop/measure/reed-results.ts";
import { settledStretch } from "../../core/workshop/measure/settled-stretch.ts";
import { type Arguments, choiceOption, fileWords, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { readTakeFile, type Take } from "./files.ts";
import { HARP_OPTIONS, harpOption, harpToJson } from "./harp-option.ts";
import type { Io } from "./io.ts";
import { listenToSound } from "./listen.ts";

/** Prints how every reed of a harp is tuned, from a recording of the walk along them; or how two reeds sounded together beat. */
export async function measure(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, [...HARP_OPTIONS, "together", "breath"]);
  const [path = ""] = fileWords(read, ["TAKE.wav"]);
  const harp = await harpOption(read);
  const take = await readTakeFile(path);
  const tooLong = whyTooLong(take.samples.length, take.sampleRateHz);
  if (tooLong !== null) throw new CommandError(`${path}: ${tooLong}`);
  const answer =
    read.options.together === undefined ? reedsOf(path, take, harp, read) : togetherOf(take, harp, read);
  io.stdout(`${JSON.stringify(answer, null, 2)}\n`);
}

function reedsOf(path: string, take: Take, harp: Harp, args: Arguments) {
  if (args.options.breath !== undefined) throw new CommandError("--breath belongs to --together");
  const measured = measureTake(harp, listenToSound(path, take, knownReeds(harp)));
  if (measured.measurement.reeds.every(({ outcome }) => outcome !== "measured")) {
    throw new CommandError(
      `${path}: no reed of this harp was heard; is it the right layout and key, and was each note held for half a second?`,
    );
  }
  const { schema, version, ...rest } = toMeasuredJson(measured);
  return { schema, version, harp: harpToJson(harp), caution: BREATH_CAUTION, ...rest };
}

function togetherOf(take: Take, harp: Harp, args: Arguments) {
  const pair = pairOption(harp, args);
  const results = reedResults(emptyMeasurement(harp, "recording"));
  const target = (hole: number) => midiToHz(targetMidiOf(harp, { hole, breath: pair.breath }));
  const heard = heardBeats(settledStretch(take.samples, take.sampleRateHz), take.sampleRateHz, {
    lowHz: target(pair.lowHole),
    highHz: target(pair.highHole),
    ratio: pair.ratio,
  });
  const calculated = pairBeats(pair, results);
  return {
    schema: "reedpath.heard-beats",
    version: 1,
    harp: harpToJson(harp),
    breath: pair.breath,
    holes: [pair.lowHole, pair.highHole],
    interval: intervalInWords(pair.semitones),
    ratio: `${pair.ratio.over}/${pair.ratio.under}`,
    wantedPerSecond: Number(calculated.wanted.toFixed(3)),
    heard,
    words: heardInWords(heard, calculated),
  };
}

/** @throws CommandError where two such holes are not there, or make no interval with a pure ratio */
function pairOption(harp: Harp, args: Arguments): ReedPair {
  const text = args.options.together ?? "";
  const breath = choiceOption(args, "breath", "blow", BREATHS);
  const holes = text
    .split(/[\s,]+/)
    .filter((word) => word !== "")
    .map(Number);
  const [one = Number.NaN, other = Number.NaN] = holes;
  if (holes.length !== 2 || !holes.every(Number.isInteger))
    throw new CommandError(`--together takes two holes, as "1 4", not "${text}"`);
  const pair = pairOf(harp, breath, one, other);
  if (pair === null) {
    throw new CommandError(
      `--together "${text}": ${one} and ${other} ${breath} are not two reeds of this harp an octave, fifth, third, fourth or sixth apart`,
    );
  }
  return pair;
}
