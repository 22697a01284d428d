import { type Harp, labelName } from "../../core/instrument/harp.ts";
import { layoutWarnings } from "../../core/instrument/layout-warnings.ts";
import { type PositionReport, positionReport } from "../../core/instrument/position-report.ts";
import { POSITIONS, positionHomeName, positionName } from "../../core/instrument/positions.ts";
import type { Abilities, InHoles } from "../../core/instrument/reed-actions.ts";
import { readHoles } from "../../core/instrument/reed-actions.ts";
import {
  type FoundDegree,
  modeOn,
  type Run,
  type ScaleReport,
  scaleReport,
} from "../../core/instrument/scale-report.ts";
import { actionInWords, tab } from "../../core/instrument/tab.ts";
import { MODE_NAMES, type Mode } from "../../core/pitch/modes.ts";
import { noteName } from "../../core/pitch/note-names.ts";
import { type Arguments, fileWords, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import { HARP_OPTIONS, harpOption, harpToJson } from "./harp-option.ts";
import { MODE_OPTIONS, modeOption } from "./home-option.ts";
import type { Io } from "./io.ts";

/** Prints the twelve positions of a harp: home reeds, natural mode, and how each mode can be played. */
export async function positions(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, [...HARP_OPTIONS, ...MODE_OPTIONS, "position", "bends", "overbends"]);
  fileWords(read, []);
  const harp = await harpOption(read);
  const abilities: Abilities = {
    bends: holesOption(read, "bends"),
    overbends: holesOption(read, "overbends"),
  };
  const chosen = modeOption(read);
  const only = numberOption(read, "position", 0, { low: 1, high: 12, whole: true });
  const wanted = only === 0 ? POSITIONS : [only];
  const printed = {
    schema: "reedpath.positions",
    version: 1,
    harp: harpToJson(harp),
    label: labelName(harp),
    countedFrom: positionHomeName(harp, 1),
    warnings: layoutWarnings(harp.layout).map((warning) => warning.text),
    positions: wanted.map((position) =>
      positionToJson(harp, positionReport(harp, position, abilities, []), abilities, chosen),
    ),
  };
  io.stdout(`${JSON.stringify(printed, null, 2)}\n`);
}

/** "yes", "no" or hole numbers; yes where nothing is said, for this command tells what there is. */
function holesOption(args: Arguments, name: string): InHoles {
  const text = args.options[name];
  if (text === undefined) return true;
  const holes = readHoles(text);
  if (holes === null)
    throw new CommandError(`--${name} must be yes, no or hole numbers such as "4 6", not "${text}"`);
  return holes;
}

function positionToJson(harp: Harp, report: PositionReport, abilities: Abilities, chosen: Mode | null) {
  const modes = chosen === null ? MODE_NAMES : [chosen];
  const on = (mode: Mode) => modeOn(report.home, mode, report.homeName);
  const { spelling } = on(chosen ?? "major");
  return {
    position: report.position,
    name: positionName(report.position),
    home: report.homeName,
    homeReeds: report.homeReeds.map(({ note, action }) => ({
      tab: tab(action),
      words: actionInWords(action),
      note: noteName(note, spelling),
    })),
    naturalMode: report.naturalMode,
    notPlain: report.notPlain.map(inWords),
    modes: modes.map((mode) => {
      const scale = on(mode);
      const found = scaleReport(harp, scale, abilities);
      const short = modeToJson(mode, found, scale.spelling);
      return chosen === null
        ? short
        : { ...short, octaves: found.octaves.map((one) => one.map(degreeToJson)) };
    }),
  };
}

function modeToJson(mode: string, found: ScaleReport, spelling: readonly string[]) {
  const by = (means: FoundDegree["means"]) =>
    found.octaves
      .flat()
      .filter((one) => one.means === means)
      .map(inWords);
  return {
    mode,
    plainOctaves: found.plainOctaves,
    longestPlainRun: runToJson(found.longestPlainRun, spelling),
    usableRange: runToJson(found.longestRun, spelling),
    bend: by("bend"),
    overblow: by("overblow"),
    missing: by("missing"),
  };
}

const inWords = (one: FoundDegree) => `${one.place} ${one.degree} (${one.noteName})`;

const runToJson = (run: Run | null, spelling: readonly string[]) =>
  run === null
    ? null
    : { low: noteName(run.low, spelling), high: noteName(run.high, spelling), notes: run.notes };

const degreeToJson = (one: FoundDegree) => ({
  degree: one.degree,
  note: one.noteName,
  midi: one.note,
  means: one.means,
  tab: one.actions.map((action) => tab(action)),
});
