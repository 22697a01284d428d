import type { MadeExercise } from "../../core/exercise/drill-spec.ts";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { KeptPlan } from "../../core/progress/plan/plan-kept.ts";
import type { PlanLine, PlanPart, PlayedLine } from "../../core/progress/plan/plan-shape.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import type { AfterRound } from "../practice/practice-services.ts";
import type { PracticeSession } from "../practice/practice-session.ts";
import type { HowToPlay } from "./how-to-play.ts";

/** What a run needs of the world. */
export interface RunWorld {
  /** Makes what a part plays, or says in words why there is none. */
  readonly exerciseOf: (part: PlanPart) => Promise<MadeExercise>;
  readonly newSession: (
    exercise: Exercise,
    afterRound: (attempt: Attempt) => AfterRound | null,
    how: Partial<HowToPlay>,
  ) => PracticeSession;
  /** Whether takes begin with a note held; else each line begins by itself. */
  readonly begins: () => "key" | "held note";
  /** The plan with something else on a line, or null where there is nothing else. */
  readonly swapped: (kept: KeptPlan, name: string) => KeptPlan | null;
  readonly keep: (kept: KeptPlan) => void;
}

export type RunMoment =
  | { readonly kind: "opening"; readonly line: PlayedLine; readonly part: PlanPart }
  | {
      readonly kind: "playing";
      readonly line: PlayedLine;
      readonly part: PlanPart;
      readonly session: PracticeSession;
      /** Why the tempo goes no further, where the player tried. */
      readonly held: string | null;
      /** Seconds until the first take begins by itself; null where none does. */
      readonly beginsInSeconds: number | null;
    }
  | { readonly kind: "resting"; readonly line: PlanLine; readonly staying: boolean }
  /** Something cannot be played: it is passed over in so many seconds. */
  | {
      readonly kind: "stuck";
      readonly line: PlayedLine;
      readonly words: string;
      readonly goesOnInSeconds: number;
    }
  | { readonly kind: "over" };

export interface RunState {
  readonly kept: KeptPlan;
  readonly moment: RunMoment;
  /** One sentence on what the last key did not do; null for none. */
  readonly told: string | null;
}

/** The moment with the line as it is by now. */
export function withOwnLine(moment: RunMoment, line: PlanLine): RunMoment {
  if (moment.kind === "over") return moment;
  if (moment.kind === "resting") return { ...moment, line };
  return line.kind === "rest" ? moment : { ...moment, line };
}
