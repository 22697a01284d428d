import { type Harp, harpInKey, type Register } from "../../../../core/instrument/harp.ts";
import { type Breath, type Layout, layoutFromRows } from "../../../../core/instrument/layout.ts";
import { stockLayout } from "../../../../core/instrument/stock-layouts.ts";
import { cents, hz } from "../../../../core/units.ts";
import {
  type PlanRules,
  type RetuningPlan,
  retuningPlan,
  USUAL_RULES,
} from "../../../../core/workshop/retune/retuning-plan.ts";

/** A harp that is known to be one. */
export function harpOf(layout: string | Layout, key: string, register: Register = "usual", a4Hz = 440): Harp {
  const found = typeof layout === "string" ? stockLayout(layout) : layout;
  const harp = found === null ? null : harpInKey(found, key, hz(a4Hz), register);
  if (harp === null) throw new Error(`there is no ${register} ${key} harp of ${String(layout)}`);
  return harp;
}

/** A plan that is known to be possible. */
export function planOf(from: Harp, to: Harp, rules: Partial<PlanRules> = {}): RetuningPlan {
  const made = retuningPlan(from, to, { ...USUAL_RULES, ...rules });
  if (made.kind === "not possible") throw new Error(made.reason);
  return made.plan;
}

/** The harp measured: every reed `usual` cents off but those named, "3 blow": -40. */
export function measured(harp: Harp, off: Readonly<Record<string, number | null>>, usual: number = 0): Harp {
  const cell = (hole: number, breath: Breath) => {
    if (harp.layout.holes[hole - 1]?.[breath] === null) return null;
    const own = off[`${hole} ${breath}`];
    return own === null ? null : cents(own ?? usual);
  };
  return {
    ...harp,
    reedOffsets: harp.layout.holes.map((_, index) => ({
      blow: cell(index + 1, "blow"),
      draw: cell(index + 1, "draw"),
    })),
  };
}

/** A layout of a few holes, for what is counted by hand. */
export const small = (blow: readonly (number | null)[], draw: readonly (number | null)[]): Layout =>
  layoutFromRows("small", "small", { blow, draw });

/** The planned reed of a place, "3 blow". */
export function reedOf(plan: RetuningPlan, place: string) {
  const found = plan.reeds.find(({ change }) => `${change.hole} ${change.breath}` === place);
  if (found === undefined) throw new Error(`the plan has no ${place}`);
  return found;
}

export const workedOf = (plan: RetuningPlan) =>
  plan.reeds
    .filter(({ work }) => work.kind !== "leave")
    .map(({ change, work }) => `${change.hole} ${change.breath} ${work.kind}`);
