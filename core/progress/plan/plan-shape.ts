import type { DrillSetting, DrillSpec } from "../../exercise/drill-spec.ts";
import type { Harp } from "../../instrument/harp.ts";
import type { ReedAction } from "../../instrument/reed-actions.ts";
import type { PracticeDay } from "../practice-day.ts";
import type { TuneStatus } from "../repertoire/repertoire-status.ts";
import type { ItemRow, Wish } from "../revisit/revisit.ts";
import { minutesInWords } from "./plan-words.ts";

/** What a line of a day's plan is for, in the order they are played in. */
export const PLAN_KINDS = ["warm-up", "due", "weak pair", "new", "early", "whole tune"] as const;
export type PlanKind = (typeof PLAN_KINDS)[number];

/** From what the exercise of a part is made. */
export type Recipe =
  | { readonly kind: "drill"; readonly spec: DrillSpec }
  /** The exercise of a kept attempt, as it was. */
  | { readonly kind: "attempt"; readonly id: string }
  /** A rung of a tune's ladder, by its id. */
  | { readonly kind: "tune"; readonly tuneId: string; readonly rung: string };

/** One thing to play. */
export interface PlanPart {
  /** As `itemOf` names it: nothing is in a plan twice. */
  readonly item: string;
  readonly title: string;
  /** "G harp"; empty where it is not yet known. */
  readonly harp: string;
  readonly recipe: Recipe;
  /** Why this, without a stop. */
  readonly why: string;
}

/** How the parts of a line take turns: after each take, or one after the other. */
export type Turns = "mixed" | "blocked";

export interface PlayedLine {
  readonly kind: PlanKind;
  /** Of its kind, from 1: with the kind the name of the line. */
  readonly number: number;
  /** Whole minutes. */
  readonly minutes: number;
  /** At least one. */
  readonly parts: readonly PlanPart[];
  readonly turns: Turns;
  /** Why a line of this kind, without a stop. */
  readonly why: string;
}

export interface RestLine {
  readonly kind: "rest";
  readonly number: number;
  readonly minutes: number;
  readonly why: string;
}

export type PlanLine = PlayedLine | RestLine;

export interface Plan {
  readonly day: PracticeDay;
  /** As asked for. The lines take as many, or fewer where there is not enough to play. */
  readonly minutes: number;
  readonly lines: readonly PlanLine[];
}

/** Two reed actions in turn that cost most. */
export interface PlanPair {
  readonly harp: Harp;
  readonly first: ReedAction;
  readonly second: ReedAction;
  /** What shows it, without a stop. */
  readonly why: string;
}

/** A tune as a plan needs it. */
export interface PlanTune {
  readonly tuneId: string;
  readonly title: string;
  readonly status: TuneStatus;
  /** Null for never. */
  readonly lastDay: PracticeDay | null;
  /** The rung to be climbed next that is played; null where all are climbed. */
  readonly next: PlanRung | null;
  /** The whole tune as fast as it goes; null where it is not that far. */
  readonly whole: PlanRung | null;
}

export interface PlanRung {
  /** As the ladder has it. */
  readonly id: string;
  /** "A 1–4". */
  readonly words: string;
}

export interface PlanInput {
  /** Whole, 5 to 120. */
  readonly minutes: number;
  readonly day: PracticeDay;
  /** Settles what nothing else does; see `seedOfDay`. */
  readonly seed: number;
  readonly items: readonly ItemRow[];
  readonly wishes: readonly Wish[];
  /** What costs most first. */
  readonly weakPairs: readonly PlanPair[];
  readonly tunes: readonly PlanTune[];
  /** What the player's drills are set to. */
  readonly drills: DrillSetting;
  /** How what is known takes turns; what is new is always blocked. */
  readonly known: Turns;
}

/** Names a line within its plan: "due 2". */
export const lineName = ({ kind, number }: Pick<PlanLine, "kind" | "number">): string => `${kind} ${number}`;

/** Minutes of all lines together. */
export const plannedMinutes = ({ lines }: Pick<Plan, "lines">): number =>
  lines.reduce((sum, line) => sum + line.minutes, 0);

/** "27 minutes of playing, 2 of rest". */
export function planInWords({ lines }: Pick<Plan, "lines">): string {
  const rest = plannedMinutes({ lines: lines.filter(({ kind }) => kind === "rest") });
  const played = plannedMinutes({ lines }) - rest;
  return `${minutesInWords(played)} of playing${rest === 0 ? "" : `, ${rest} of rest`}`;
}
