import { type Harp, harpInKey, REGISTERS } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import { hz } from "../../core/units.ts";
import { REED_WORK_CAUTION } from "../../core/workshop/reed-work-caution.ts";
import {
  type HarpSource,
  harpsForSet,
  MEASURES,
  MOST_WANTED,
} from "../../core/workshop/retune/harps-for-set.ts";
import type { RetuningLimits } from "../../core/workshop/retune/reed-work.ts";
import { type StockChoice, type StockFit, stockToBuy } from "../../core/workshop/retune/stock-to-buy.ts";
import { twoPlates } from "../../core/workshop/retune/two-plates.ts";
import { type Arguments, choiceOption, numberOption } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import {
  type HarpOptionNames,
  harpOption,
  harpToJson,
  layoutOption,
  temperamentOption,
} from "./harp-option.ts";
import { layoutsOption, listOf, ownedOption, shortHarp } from "./harps-option.ts";
import type { Io } from "./io.ts";
import { rounded } from "./retune-json.ts";

/** Options of `--buy` alone. */
export const BUY_OPTIONS: readonly string[] = ["to-keys", "stock", "owned", "by"];

interface Names {
  readonly to: HarpOptionNames;
  readonly from: HarpOptionNames;
}

/** Prints which harp to buy for each wanted one, by either measure, and what the whole set is best made of. */
export async function buy(read: Arguments, names: Names, limits: RetuningLimits, io: Io): Promise<void> {
  const wanted = await wantedOption(read, names.to);
  const stock = await stockOption(read, names.from);
  const owned = await ownedOption(read);
  const by = choiceOption(read, "by", "total", MEASURES);
  const set = harpsForSet(wanted, owned, stock, limits, by);
  const nothing = set.without[0];
  if (nothing !== undefined) {
    throw new CommandError(
      `no harp of the ${stock.length} that can be bought has the ${nothing.layout.holes.length} holes and the reeds of ${nothing.layout.name}`,
    );
  }
  const printed = {
    schema: "reedpath.harps-to-retune",
    version: 1,
    caution: REED_WORK_CAUTION,
    limits,
    wanted: wanted.map((harp) => choiceToJson(stockToBuy(harp, stock, limits), stock, limits)),
    set: {
      by,
      totalCents: rounded(set.totalCents, 2),
      largestCents: rounded(set.largestCents, 2),
      madeOf: set.sources.map((source) => sourceToJson(source)),
      toBuy: set.sources.filter(({ owned: own }) => own === null).map(({ fit }) => shortHarp(fit.harp)),
    },
  };
  io.stdout(`${JSON.stringify(printed, null, 2)}\n`);
}

/** The harps of `--to` with `--to-key`, or with the list of `--to-keys`, "G, low F, A". */
async function wantedOption(read: Arguments, names: HarpOptionNames): Promise<readonly Harp[]> {
  const list = listOf(read, "to-keys");
  if (list === null) {
    if (read.options[names.key] === undefined)
      throw new CommandError('--to-key or --to-keys is missing: a key, such as G, or several, "G, D, low F"');
    return [await harpOption(read, names)];
  }
  for (const name of [names.key, names.register])
    if (read.options[name] !== undefined)
      throw new CommandError(`--${name} and --to-keys both say which keys: take one of them`);
  if (list.length > MOST_WANTED)
    throw new CommandError(`--to-keys: ${list.length} harps are more than the ${MOST_WANTED} of one set`);
  const layout = await layoutOption(read, names.layout);
  const a4 = hz(numberOption(read, names.a4, 440, { low: 400, high: 480 }));
  const temperament = await temperamentOption(read, layout, names.temperament);
  return list.map((words) => {
    const harp = wantedHarp(layout, words, a4);
    return temperament.kind === "equal" ? harp : { ...harp, temperament };
  });
}

/** @param words "G", "low F", "F low" */
function wantedHarp(layout: Layout, words: string, a4: Harp["a4"]): Harp {
  const parts = words.split(/\s+/);
  const register = REGISTERS.find((one) => parts.includes(one));
  const [key = "", ...more] = parts.filter((part) => part !== register);
  const harp = more.length > 0 ? null : harpInKey(layout, key, a4, register ?? "usual");
  if (harp === null)
    throw new CommandError(
      `--to-keys: "${words}" is no key harps are made in: say G, or low F; low ones go from C to F#, high is G alone`,
    );
  return harp;
}

/** Every harp of `--stock`, all layouts where nothing is said, tuned as `--from-a4` and `--from-temperament` say. */
async function stockOption(read: Arguments, from: HarpOptionNames): Promise<readonly Harp[]> {
  const layouts = await layoutsOption(read, "stock");
  const a4 = hz(numberOption(read, from.a4, 440, { low: 400, high: 480 }));
  const [first = STANDARD_LAYOUT] = layouts;
  const temperament = await temperamentOption(read, first, from.temperament);
  if (temperament.kind === "reeds")
    throw new CommandError(`--${from.temperament}: harps that are bought have no cents for each reed`);
  return harpsToTry({ layouts, registers: REGISTERS }).map((harp) => ({
    ...harp,
    a4,
    ...(temperament.kind === "equal" ? {} : { temperament }),
  }));
}

const choiceToJson = (
  { wanted, tried, unfit, tradeOff, byLayout }: StockChoice,
  stock: readonly Harp[],
  limits: RetuningLimits,
) => ({
  harp: harpToJson(wanted),
  tried,
  unfit,
  leastTotal: fitToJson(tradeOff[0]),
  leastLargest: fitToJson(tradeOff.at(-1)),
  tradeOff: tradeOff.map(fitToJson),
  byLayout: byLayout.map(fitToJson),
  twoPlates: twoPlates(wanted, stock, limits, tradeOff).map((plates) => ({
    blow: shortHarp(plates.blow.harp),
    draw: shortHarp(plates.draw.harp),
    totalCents: rounded(plates.totalCents, 2),
    largestCents: rounded(plates.largestCents, 2),
    worked: plates.worked,
    swapped: plates.swapped,
  })),
});

function fitToJson(fit: StockFit | undefined) {
  if (fit === undefined) return null;
  const { harp, totalCents, largestCents, worked, swapped } = fit;
  return {
    ...shortHarp(harp),
    totalCents: rounded(totalCents, 2),
    largestCents: rounded(largestCents, 2),
    worked,
    swapped,
  };
}

const sourceToJson = ({ wanted, owned, fit }: HarpSource) => ({
  wanted: shortHarp(wanted),
  from: owned === null ? "bought" : "owned",
  ...fitToJson(fit),
});
