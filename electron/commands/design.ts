import { seededRandom } from "../../core/exercise/seeded-random.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { writeLayout } from "../../core/instrument/layout-json.ts";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import { runToEnd } from "../../core/path/long-work.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { type CoverLine, coverLine } from "../../core/workshop/design/cover-design.ts";
import { catalogueBeside, nameFound } from "../../core/workshop/design/found-layout.ts";
import { keysShare } from "../../core/workshop/design/keys-share.ts";
import { loosenings } from "../../core/workshop/design/loosen.ts";
import { type TuneLine, tuneLine, USUAL_TRIES } from "../../core/workshop/design/tune-line.ts";
import type { DesignWish } from "../../core/workshop/design/wish.ts";
import { wishFaults } from "../../core/workshop/design/wish-faults.ts";
import { REED_WORK_CAUTION } from "../../core/workshop/reed-work-caution.ts";
import { writeWhole } from "../write-whole.ts";
import { type Arguments, choiceOption, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { catalogueToJson, fitToJson, layoutToJson, shareToJson, wishToJson } from "./design-json.ts";
import { LIMIT_OPTIONS, limitsOption, scalesOption, weighedOption } from "./design-options.ts";
import { fileTrouble } from "./files.ts";
import { repertoire } from "./fit.ts";
import { HARP_OPTIONS, harpOption, harpToJson, layoutOption } from "./harp-option.ts";
import { HARPS_OPTIONS, harpsOption } from "./harps-option.ts";
import type { Io } from "./io.ts";
import { abilitiesOption, weightsOption } from "./plan-options.ts";
import { TUNE_OPTIONS } from "./tune-files.ts";

const OPTIONS: readonly string[] = [
  ...HARP_OPTIONS,
  ...LIMIT_OPTIONS,
  ...TUNE_OPTIONS,
  ...HARPS_OPTIONS.filter((name) => name !== "layouts"),
  "scales",
  "triads",
  "chords",
  "best",
  "bends",
  "overbends",
  "weights",
  "tune-weights",
  "seed",
  "tries",
  "out",
  "beside",
];
const MOST_BEST = 20;
const MOST_TRIES = 20_000_000;

/** Prints the layouts that play scales, or suit tunes, with as few and small changes as can be; what must give way where none does. */
export async function design(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, OPTIONS);
  const wish = await wishOption(read);
  const tunes = read.words.length === 0 ? [] : (await repertoire(read)).tunes.map(({ tune }) => tune);
  if (tunes.length === 0 && wish.scales.length === 0)
    throw new CommandError('say what is to be playable: --scales "G major D4-B6", files of tunes, or both');
  const best = numberOption(read, "best", 3, { low: 1, high: MOST_BEST, whole: true });
  const line =
    tunes.length === 0 ? runToEnd(coverLine(wish, { most: best })) : await lineOfTunes(read, wish, tunes);
  if (line.kind === "no notes") throw new CommandError("there is no note in these tunes");
  if (line.kind === "too many ways")
    throw new CommandError(
      "there are more ways to cover these notes than are gone through: a smaller --most-semitones is needed",
    );
  const about = {
    schema: "reedpath.design",
    version: 1,
    start: harpToJson(wish.harp),
    wish: wishToJson(wish),
    kind: line.kind === "line" ? "found" : "impossible",
  };
  if (line.kind === "impossible") return tellLoosening(about, wish, io);
  const shown = pointsOf(wish, line, tunes, await besideOption(read, wish));
  const [first] = shown.flatMap(({ layouts }) => layouts);
  if (read.options.out !== undefined && first !== undefined) await keep(read.options.out, first.layout);
  const printed = {
    ...about,
    caution: REED_WORK_CAUTION,
    ...(line.kind === "line" && "start" in line ? { startTunes: fitToJson(line.notes, line.start) } : {}),
    ...(tunes.length === 0 ? {} : { startKeys: shareToJson(runToEnd(keysShare(tunes, wish.harp.layout))) }),
    line: shown.map(({ layouts, ...rest }) => ({ ...rest, layouts: layouts.map(({ json }) => json) })),
    catalogue: catalogueToJson(wish, catalogueBeside(wish), line),
  };
  io.stdout(`${JSON.stringify(printed, null, 2)}\n`);
}

async function wishOption(read: Arguments): Promise<DesignWish> {
  const harp = await harpOption(read);
  const wish: DesignWish = {
    harp,
    scales: scalesOption(read, harp),
    limits: limitsOption(read, harp),
    chordsCount: choiceOption(read, "chords", "count", ["count", "ignore"]) === "count",
    mustHave: (read.options.triads ?? "").split(/[\s,;]+/).filter((word) => word !== ""),
  };
  const [fault] = wishFaults(wish);
  if (fault !== undefined) throw new CommandError(fault);
  return wish;
}

async function lineOfTunes(read: Arguments, wish: DesignWish, tunes: readonly Tune[]): Promise<TuneLine> {
  const { keys, registers } = read.options;
  const named = keys !== undefined || registers !== undefined;
  const options = { ...read, options: { ...read.options, layouts: "standard" } };
  const harps = named ? await harpsOption(options) : harpsToTry({ layouts: [wish.harp.layout] });
  return runToEnd(
    tuneLine(wish, {
      tunes: await weighedOption(read, tunes),
      setting: { harps, abilities: abilitiesOption(read), weights: await weightsOption(read) },
      random: seededRandom(numberOption(read, "seed", 1, { low: 0, high: 2 ** 32 - 1, whole: true })),
      tries: numberOption(read, "tries", USUAL_TRIES, { low: 1, high: MOST_TRIES, whole: true }),
    }),
  );
}

/** The layout those found are held against: the start, or the one of `--beside`. */
async function besideOption(read: Arguments, wish: DesignWish): Promise<Layout> {
  return read.options.beside === undefined ? wish.harp.layout : layoutOption(read, "beside");
}

type FoundLine = Extract<CoverLine | TuneLine, { kind: "line" }>;

/** The points of a line with their layouts under names of their own. */
function pointsOf(wish: DesignWish, line: FoundLine, tunes: readonly Tune[], beside: Layout) {
  const seen = new Map<number, number>();
  const named = (layout: Layout, changed: number) => {
    const place = seen.get(changed) ?? 0;
    seen.set(changed, place + 1);
    return nameFound(wish.harp.layout, layout, place);
  };
  const shown = (layout: Layout) => ({ layout, json: layoutToJson(wish, layout, beside) });
  if (!("start" in line))
    return line.points.map(({ changed, moved, ways, proved, layouts }) => ({
      changed,
      semitonesMoved: moved,
      ways,
      proved,
      layouts: layouts.map((layout) => shown(named(layout, changed))),
    }));
  return line.points.map(({ changed, moved, layout, fit }) => ({
    changed,
    semitonesMoved: moved,
    tunes: fitToJson(line.notes, fit),
    keys: shareToJson(runToEnd(keysShare(tunes, layout))),
    layouts: [shown(named(layout, changed))],
  }));
}

/** @throws CommandError always: the one line for a person; what could give way is in the JSON as well */
function tellLoosening(about: object, wish: DesignWish, io: Io): never {
  const ways = runToEnd(loosenings(wish));
  const loosen = ways.map(({ kinds, words }) => ({ limits: kinds, words }));
  io.stdout(`${JSON.stringify({ ...about, loosen }, null, 2)}\n`);
  const [first] = loosen;
  const enough = first === undefined ? "nothing that gives way is enough" : first.words.join(", and ");
  throw new CommandError(`no layout keeps all limits: ${enough}`);
}

async function keep(path: string, layout: Layout): Promise<void> {
  try {
    await writeWhole(path, new TextEncoder().encode(writeLayout(layout)));
  } catch (error) {
    throw new CommandError(`${path}: ${fileTrouble(error, "cannot be written")}`);
  }
}
