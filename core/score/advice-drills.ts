import { drillOfExercise } from "../exercise/drill-of-exercise.ts";
import type { DrillSetting, DrillSpec } from "../exercise/drill-spec.ts";
import type { Exercise } from "../exercise/exercise.ts";
import { makeDrill } from "../exercise/make-drill.ts";
import { NOTES_PER_BEAT, SHORTEST_NOTE_SECONDS } from "../exercise/rhythm.ts";
import { PLAIN_AND_BENDS, type ReedAction, sameAction } from "../instrument/reed-actions.ts";
import { SLOWEST, tempoInWords } from "../tune/tempo.ts";
import { bpm } from "../units.ts";
import type { Advice } from "./attempt.ts";

/** A drill for a cause, with its title; nulls where none can be made. */
export type AdvisedDrill = Pick<Advice, "drill" | "drillWords">;

/** What a drill is chosen by. */
export interface Trouble {
  readonly cause: Advice["cause"];
  /** The action asked for most often when it happened, and what was sounded instead; null where that says nothing. */
  readonly asked: ReedAction | null;
  readonly sounded: ReedAction | null;
}

/** The same drill at four fifths of its tempo: slow enough to be right, fast enough to be the same movement [P]. */
const SLOWER = 0.8;

/** The first drill of those that address a trouble that can be made on this harp for this player. */
export function drillFor(exercise: Exercise, trouble: Trouble): AdvisedDrill {
  for (const spec of candidates(exercise, trouble)) {
    const made = makeDrill(spec);
    if (made.kind === "impossible") continue;
    const { title } = made.exercise;
    const slowed = spec.tempo.bpm < exercise.tempo.bpm;
    return { drill: spec, drillWords: slowed ? `${title}, ${tempoInWords(spec.tempo)}` : title };
  }
  return { drill: null, drillWords: null };
}

function candidates(exercise: Exercise, trouble: Trouble): readonly DrillSpec[] {
  const setting = settingOf(exercise);
  const { cause, asked, sounded } = trouble;
  switch (cause) {
    case "neighbour hole":
      return [holeJumps(setting, asked), longTones(setting)];
    case "two holes at once":
    case "sharp":
    case "flat":
      return [longTones(setting)];
    case "wrong breath":
    case "early breath change":
      return [...backAndForth(setting, asked, sounded), ...slower(exercise)];
    case "unbent":
      return [...bend(setting, asked, ["from-above", "hold"]), longTones(setting)];
    case "bend too shallow":
    case "bend too deep":
      return [...bend(setting, asked, ["match", "hold"]), longTones(setting)];
    case "octave":
      return [octaves(setting), ...slower(exercise)];
    default:
      return slower(exercise);
  }
}

function settingOf(exercise: Exercise): DrillSetting {
  const { harp, position, mode, tempo, beatsPerBar, countInBeats } = exercise;
  const read = drillOfExercise(exercise);
  const abilities = read.kind === "drill" ? read.spec.abilities : PLAIN_AND_BENDS;
  return { harp, position, mode, abilities, tempo, beatsPerBar, countInBeats };
}

function holeJumps(setting: DrillSetting, asked: ReedAction | null): DrillSpec {
  const breath = asked?.breath ?? "blow";
  return { kind: "hole-jumps", ...setting, jump: 1, breath, direction: "both", repeats: 2, notesPerBeat: 1 };
}

function longTones(setting: DrillSetting): DrillSpec {
  const range = { octaves: 1, start: "easiest" } as const;
  return { kind: "long-tones", ...setting, ...range, direction: "both", toneBeats: 4, restBeats: 4 };
}

function octaves(setting: DrillSetting): DrillSpec {
  const range = { octaves: 1, start: "easiest", notesPerBeat: 1 } as const;
  return { kind: "pattern", ...setting, ...range, figure: "octaves", direction: "up" };
}

function backAndForth(
  setting: DrillSetting,
  first: ReedAction | null,
  second: ReedAction | null,
): readonly DrillSpec[] {
  if (first === null || second === null || sameAction(first, second)) return [];
  const most = 60 / setting.tempo.bpm / SHORTEST_NOTE_SECONDS;
  const rounds = NOTES_PER_BEAT.filter((count) => count <= Math.min(4, most) && count !== 3);
  return [{ kind: "breath-pair", ...setting, first, second, rounds, roundBeats: 8 }];
}

function bend(
  setting: DrillSetting,
  asked: ReedAction | null,
  figures: readonly ("from-above" | "match" | "hold")[],
): readonly DrillSpec[] {
  if (asked === null || asked.technique === "plain") return [];
  const { technique, hole, breath, bentSemitones } = asked;
  const holding = { holdBeats: 4, restBeats: 4, repeats: 4, targetShown: true, seed: 1 };
  return figures.map((figure) => ({
    kind: "bend",
    ...setting,
    figure,
    technique,
    hole,
    breath,
    bentSemitones,
    ...holding,
  }));
}

function slower(exercise: Exercise): readonly DrillSpec[] {
  const read = drillOfExercise(exercise);
  if (read.kind === "unreadable") return [];
  const tempo = { ...exercise.tempo, bpm: bpm(Math.max(SLOWEST, Math.round(SLOWER * exercise.tempo.bpm))) };
  return [{ ...read.spec, tempo }];
}
