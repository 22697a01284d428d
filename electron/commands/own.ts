import type { Harp } from "../../core/instrument/harp.ts";
import { type HarpsToOwn, harpsToOwn } from "../../core/path/harps-to-own.ts";
import { runToEnd } from "../../core/path/long-work.ts";
import { numberOption, readArguments } from "./arguments.ts";
import { repertoire } from "./fit.ts";
import { HARPS_OPTIONS, harpsOption, ownedOption, shortHarp } from "./harps-option.ts";
import type { Io } from "./io.ts";
import { abilitiesOption } from "./plan-options.ts";
import { TUNE_OPTIONS } from "./tune-files.ts";
import { leftOutOf, tuneHeading } from "./tune-json.ts";

/** Prints the fewest harps that play a repertoire within the player's limits, and what each further harp adds. */
export async function own(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, [
    ...TUNE_OPTIONS,
    ...HARPS_OPTIONS,
    "bends",
    "overbends",
    "most-bent",
    "owned",
  ]);
  const harps = await harpsOption(read);
  const owned = await ownedOption(read);
  const abilities = abilitiesOption(read);
  const mostBent = numberOption(read, "most-bent", 1, { low: 0, high: 1 });
  const { files, tunes } = await repertoire(read);
  const found = runToEnd(
    harpsToOwn(
      tunes.map(({ tune }) => tune),
      harps,
      { abilities, mostBent, owned },
    ),
  );
  const printed = {
    schema: "reedpath.own",
    version: 1,
    limits: { ...abilities, mostBent },
    harpsTried: harps.length,
    tunes: tunes.length,
    owned: owned.map(shortHarp),
    alreadyPlayed: found.alreadyPlayed.length,
    ...foundToJson(found),
    unplayable: found.unplayable.flatMap((place) => {
      const one = tunes[place];
      return one === undefined ? [] : [tuneHeading(one.file, one.tune)];
    }),
    leftOut: files.flatMap(leftOutOf),
  };
  io.stdout(`${JSON.stringify(printed, null, 2)}\n`);
}

const foundToJson = ({ smallest, provedSmallest, bestOfSize, oneByOne }: HarpsToOwn) => ({
  smallest: inShort(smallest),
  provedSmallest,
  bestOfSize: bestOfSize.map(({ harps, ...rest }) => ({ harps: inShort(harps), ...rest })),
  oneByOne: oneByOne.map(({ harp, ...rest }) => ({ ...shortHarp(harp), ...rest })),
});

const inShort = (harps: readonly Harp[]) => harps.map(shortHarp);
