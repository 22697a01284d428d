import type { DrillSetting, DrillSpec, Running } from "../../core/exercise/drill-spec.ts";
import type { Rhythm } from "../../core/exercise/rhythm.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import {
  type Abilities,
  type ReedAction,
  readHoles,
  reedActions,
} from "../../core/instrument/reed-actions.ts";
import { tab } from "../../core/instrument/tab.ts";
import { modeDegrees } from "../../core/pitch/modes.ts";
import { bpm } from "../../core/units.ts";
import type { DrillChoice } from "./drill-choice.ts";

export type SpecOfChoice =
  | { readonly kind: "spec"; readonly spec: DrillSpec }
  | { readonly kind: "impossible"; readonly reason: string };

const RHYTHMS: Readonly<Record<DrillChoice["rhythm"], Rhythm>> = {
  even: { kind: "even" },
  dotted: { kind: "dotted" },
  "swung 2:1": { kind: "swung", ratio: 2 },
};

const HOLD_BEATS: Readonly<Record<DrillChoice["bendFigure"], number>> = {
  hold: 4,
  "from-above": 3,
  match: 2,
  ladder: 1,
};

/** Rounds of a breath drill: from one note to the beat up to four. */
const ROUNDS = [1, 2, 3, 4] as const;
const ROUND_BEATS = 8;

/** What the drill maker is asked for by a choice. */
export function specOfChoice(choice: DrillChoice, harp: Harp, countInBeats: number): SpecOfChoice {
  const setting: DrillSetting = {
    harp,
    position: choice.position,
    mode: choice.mode,
    abilities: abilitiesOf(choice),
    tempo: { bpm: bpm(choice.bpm), noteValue: choice.noteValue },
    countInBeats,
  };
  if (choice.kind === "breath-pair") return breathPair(choice, setting);
  if (choice.kind === "bend") return bend(choice, setting);
  return { kind: "spec", spec: { ...setting, ...partsOf(choice) } as DrillSpec };
}

/** The parts of a kind beside its setting. */
function partsOf(choice: DrillChoice): object {
  const { kind, direction, octaves, start, repeats } = choice;
  const range = { octaves, start, ...fromDegree(choice) };
  const running: Running = {
    notesPerBeat: choice.notesPerBeat,
    rhythm: RHYTHMS[choice.rhythm],
    accents: choice.accents,
  };
  switch (kind) {
    case "scale":
      return { kind, ...running, ...range, direction };
    case "arpeggio":
      return { kind, ...running, octaves, start, direction, degree: choice.degree, size: choice.chordSize };
    case "progression":
      return { kind, ...running, start, repeats, numerals: choice.numerals, figure: "up-and-back" };
    case "pattern":
      return { kind, ...running, ...range, direction, figure: choice.patternFigure };
    case "hole-jumps":
      return { kind, ...running, direction, repeats, jump: choice.jump, breath: choice.jumpBreath };
    case "one-breath":
      return { kind, ...running, repeats, breath: choice.runBreath };
    case "long-tones":
      return { kind, octaves, start, direction, toneBeats: choice.toneBeats, restBeats: choice.restBeats };
    case "random-notes":
      return {
        kind,
        octaves,
        start,
        count: choice.count,
        seed: choice.seed,
        targetAs: choice.targetAs,
        noteBeats: 1,
        callBeats: 1,
      };
    default:
      throw new RangeError(`a ${kind} drill is made elsewhere`);
  }
}

function bend(choice: DrillChoice, setting: DrillSetting): SpecOfChoice {
  const chosen = choice.bend === "any" ? null : actionOfTab(setting.harp, choice.bend);
  const which =
    chosen === null ? {} : { hole: chosen.hole, breath: chosen.breath, bentSemitones: chosen.bentSemitones };
  return {
    kind: "spec",
    spec: {
      kind: "bend",
      ...setting,
      ...which,
      figure: choice.bendFigure,
      holdBeats: HOLD_BEATS[choice.bendFigure],
      restBeats: choice.restBeats,
      repeats: choice.repeats,
      targetShown: choice.targetShown,
      seed: choice.seed,
    },
  };
}

function breathPair(choice: DrillChoice, setting: DrillSetting): SpecOfChoice {
  const first = actionOfTab(setting.harp, choice.first);
  const second = actionOfTab(setting.harp, choice.second);
  if (first === null || second === null) {
    return {
      kind: "impossible",
      reason: `this harp has no ${first === null ? choice.first : choice.second}`,
    };
  }
  return {
    kind: "spec",
    spec: { kind: "breath-pair", ...setting, first, second, rounds: ROUNDS, roundBeats: ROUND_BEATS },
  };
}

/** Left out for the home note, as the drill maker has it. */
function fromDegree(choice: DrillChoice): { fromDegree?: string } {
  const named = modeDegrees(choice.mode)[Number(choice.fromDegree) - 1]?.name;
  return choice.fromDegree === "1" ? {} : { fromDegree: named ?? choice.fromDegree };
}

/** What the player can do besides plain notes. */
export function abilitiesOf(choice: DrillChoice): Abilities {
  const holes = choice.overbendHoles.trim() === "" ? true : (readHoles(choice.overbendHoles) ?? true);
  return { bends: choice.bends, overbends: choice.overbends && holes };
}

/** The reed action a tab names on a harp, or null. */
export function actionOfTab(harp: Harp, wanted: string): ReedAction | null {
  const all = reedActions(harp.layout, { bends: true, overbends: true });
  return all.find(({ action }) => tab(action) === wanted)?.action ?? null;
}
