import { type Harp, REGISTERS } from "../../instrument/harp.ts";
import { STOCK_LAYOUTS } from "../../instrument/stock-layouts.ts";
import { harpsToTry } from "../../path/harps-to-try.ts";
import { type Cents, cents } from "../../units.ts";
import { reedInWords } from "../measure/measure-words.ts";
import { pairsToFinish, type ReedPair } from "./pairs.ts";
import { LEAST_PASSES, type Pass, passesOf } from "./passes.ts";
import { compareHarps, type HarpChange } from "./reed-change.ts";
import { type PlannedReed, type RetuningLimits, reedWork, USUAL_LIMITS } from "./reed-work.ts";

/** How a plan is made. */
export interface PlanRules extends RetuningLimits {
  /** LEAST_PASSES to MOST_PASSES. */
  readonly passes: number;
  /** On a harp that was measured, reeds without a reading: refused, or taken as they should sound. */
  readonly unmeasured: "refuse" | "take as they should sound";
}

export const USUAL_RULES: PlanRules = { ...USUAL_LIMITS, passes: LEAST_PASSES, unmeasured: "refuse" };

/** From a harp one has to the harp one wants. */
export interface RetuningPlan extends Omit<HarpChange, "reeds"> {
  readonly from: Harp;
  readonly to: Harp;
  readonly rules: PlanRules;
  /** Every reed, hole by hole, blow before draw. */
  readonly reeds: readonly PlannedReed[];
  readonly passes: readonly Pass[];
  /** What is listened for when finishing. */
  readonly pairs: readonly ReedPair[];
  readonly sums: RetuningSums;
}

/** How much work it is. */
export interface RetuningSums {
  /** Sum of all changes without sign, those of reeds left as they are too. */
  readonly totalCents: Cents;
  readonly largestCents: Cents;
  /** Reeds tuned or swapped. */
  readonly worked: number;
  readonly swapped: number;
  /** Days from the first pass to the last. */
  readonly days: number;
}

export type MadePlan =
  | { readonly kind: "plan"; readonly plan: RetuningPlan }
  | { readonly kind: "not possible"; readonly reason: string };

/** Every harp of the catalogue in every key and register, standard ones first. */
export const STOCK_HARPS: readonly Harp[] = harpsToTry({ layouts: STOCK_LAYOUTS, registers: REGISTERS });

/**
 * Plans the retuning of a harp, measured or not, into another.
 *
 * @param stock harps that reeds to swap could come from
 * @returns the plan, or in one line that names the reeds why there is none
 */
export function retuningPlan(
  from: Harp,
  to: Harp,
  rules: PlanRules = USUAL_RULES,
  stock: readonly Harp[] = STOCK_HARPS,
): MadePlan {
  const compared = compareHarps(from, to);
  if (compared.kind === "not possible") return compared;
  const { reeds: changes, ...others } = compared.change;
  if (others.unmeasured.length > 0 && rules.unmeasured === "refuse") {
    const names = others.unmeasured.map(reedInWords).join(", ");
    return {
      kind: "not possible",
      reason: `no reading of ${names}: measure them, or take them as they should sound`,
    };
  }
  const reeds = changes.map((change) => ({ change, work: reedWork(change, rules, stock, from) }));
  const pairs = pairsToFinish(to, reeds);
  const passes = passesOf(reeds, pairs, rules.passes, rules.toleranceCents);
  const plan = { from, to, rules, ...others, reeds, passes, pairs, sums: sumsOf(reeds, passes) };
  return { kind: "plan", plan };
}

function sumsOf(reeds: readonly PlannedReed[], passes: readonly Pass[]): RetuningSums {
  const sizes = reeds.map(({ change }) => Math.abs(change.changeCents));
  return {
    totalCents: cents(sizes.reduce((sum, size) => sum + size, 0)),
    largestCents: cents(Math.max(0, ...sizes)),
    worked: reeds.filter(({ work }) => work.kind !== "leave").length,
    swapped: reeds.filter(({ work }) => work.kind === "swap").length,
    days: passes.reduce((sum, { restDays }) => sum + restDays, 0),
  };
}
