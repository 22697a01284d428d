import { onHarpWords } from "../../core/exercise/on-harp-words.ts";
import type { TunePlan } from "../../core/exercise/tune-plan.ts";
import { registerOf } from "../../core/instrument/harp.ts";
import { positionOfHome } from "../../core/instrument/positions.ts";
import type { ReedAction } from "../../core/instrument/reed-actions.ts";
import { actionInWords, tab } from "../../core/instrument/tab.ts";
import { lineOfTune } from "../../core/path/line.ts";
import { pitchClassOfName } from "../../core/pitch/note-names.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { fileWords, readArguments } from "./arguments.ts";
import { harpToJson } from "./harp-option.ts";
import type { Io } from "./io.ts";
import { PLAN_OPTIONS, planOption, yesOption } from "./plan-options.ts";
import { readTuneFile, TUNE_OPTIONS, tuneOf } from "./tune-files.ts";
import { tuneHeading } from "./tune-json.ts";

const OCTAVE = 12;

/** Prints the cheapest way to play a tune on a harp, note by note, what is hard in it, and where the air goes. */
export async function path(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, [...TUNE_OPTIONS, ...PLAN_OPTIONS, "alternatives"]);
  const [name = ""] = fileWords(read, ["FILE"]);
  const withAlternatives = yesOption(read, "alternatives");
  const file = await readTuneFile(name, read);
  const tune = tuneOf(file, read);
  const plan = await planOption(tune, read);
  const printed = {
    schema: "reedpath.path",
    version: 1,
    tune: tuneHeading(file, tune),
    ...lieToJson(tune, plan),
    cost: plan.path.cost,
    playedAlike: plan.path.playedAlike,
    proved: plan.path.proved,
    notes: notesToJson(tune, plan, withAlternatives),
    missing: plan.path.missing,
    betterShifts: plan.path.betterShifts,
    spots: plan.spots,
    balance: {
      blowSeconds: plan.balance.blowSeconds,
      drawSeconds: plan.balance.drawSeconds,
      troubles: plan.balance.troubles,
      breaths: plan.balance.places,
    },
  };
  io.stdout(`${JSON.stringify(printed, null, 2)}\n`);
}

/** The harp, the position and the octave a tune lies in. */
export function lieToJson(tune: Tune, { harp, shift }: TunePlan) {
  const home = pitchClassOfName(tune.key.tonic);
  return {
    harp: { ...harpToJson(harp), register: registerOf(harp) },
    position: home === null ? null : positionOfHome(harp, home),
    octaves: shift / OCTAVE,
    words: onHarpWords(tune, { harp, shift }),
  };
}

function notesToJson(tune: Tune, plan: TunePlan, withAlternatives: boolean) {
  return lineOfTune(tune, { shift: plan.shift }).map((note, index) => ({
    index,
    written: tune.notes[index]?.written ?? null,
    where: note.where,
    startSeconds: note.startSeconds,
    lengthSeconds: note.lengthSeconds,
    midi: note.midi,
    ...actionToJson(plan.path.actions[index] ?? null),
    ...(withAlternatives
      ? {
          alternatives: (plan.alternatives[index] ?? []).map(({ action, cost, more }) => ({
            ...actionToJson(action),
            cost,
            more,
          })),
        }
      : {}),
  }));
}

const actionToJson = (action: ReedAction | null) =>
  action === null
    ? { action: null, tab: null, words: null }
    : { action, tab: tab(action), words: actionInWords(action) };
