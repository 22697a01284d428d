import type { DrillKind, DrillSetting, DrillSpec } from "../../../core/exercise/drill-spec.ts";
import type { Exercise } from "../../../core/exercise/exercise.ts";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { PLAIN_AND_BENDS } from "../../../core/instrument/reed-actions.ts";
import { bpm } from "../../../core/units.ts";
import { harp } from "../../support/harps.ts";

type Choices<K extends DrillKind> = Omit<Extract<DrillSpec, { kind: K }>, "kind" | keyof DrillSetting> &
  Partial<DrillSetting>;

/** A drill on a stock C harp in first position, C major, crotchet = 90, unless told otherwise. */
export function specOf<K extends DrillKind>(kind: K, choices: Choices<K>): DrillSpec {
  const setting: DrillSetting = {
    harp: harp("C"),
    position: 1,
    mode: "major",
    abilities: PLAIN_AND_BENDS,
    tempo: { bpm: bpm(90), noteValue: "1/4" },
    countInBeats: 4,
  };
  return { kind, ...setting, ...choices } as unknown as DrillSpec;
}

/** The exercise of a drill that can be made. */
export function made<K extends DrillKind>(kind: K, choices: Choices<K>): Exercise {
  const result = makeDrill(specOf(kind, choices));
  if (result.kind === "impossible") throw new Error(result.reason);
  return result.exercise;
}

/** Why a drill cannot be made. */
export function reasonAgainst<K extends DrillKind>(kind: K, choices: Choices<K>): string {
  const result = makeDrill(specOf(kind, choices));
  if (result.kind === "exercise") throw new Error(`made: ${result.exercise.title}`);
  return result.reason;
}

export const names = (exercise: Exercise) => exercise.notes.map((note) => note.noteName).join(" ");
export const tabs = (exercise: Exercise) => exercise.notes.map((note) => note.tab).join(" ");
export const degrees = (exercise: Exercise) => exercise.notes.map((note) => note.degree).join(" ");
export const starts = (exercise: Exercise) => exercise.notes.map((note) => note.startBeats as number);
export const lengths = (exercise: Exercise) => exercise.notes.map((note) => note.lengthBeats as number);
