import { REED_WORK_CAUTION } from "../../core/workshop/reed-work-caution.ts";
import { WARMTH_CENTS_PER_DEGREE } from "../../core/workshop/retune/bench-advice.ts";
import type { ReedPair } from "../../core/workshop/retune/pairs.ts";
import type { Pass } from "../../core/workshop/retune/passes.ts";
import { reedNamer } from "../../core/workshop/retune/reed-names.ts";
import type { PlannedReed, ReedWork } from "../../core/workshop/retune/reed-work.ts";
import type { RetuningPlan } from "../../core/workshop/retune/retuning-plan.ts";
import { planInWords } from "../../core/workshop/retune/retuning-words.ts";
import { harpToJson } from "./harp-option.ts";
import { shortHarp } from "./harps-option.ts";

/** A number to so many decimals; -0 is 0. */
export const rounded = (value: number, decimals: number) =>
  Math.round(value * 10 ** decimals) / 10 ** decimals + 0;
const cents = (value: number) => rounded(value, 2);
const hertz = (value: number) => rounded(value, 3);

/** A plan as the command prints it. */
export function planToJson(plan: RetuningPlan) {
  const { from, to, rules, sums, reeds, idle, valves, unmeasured, passes, pairs } = plan;
  return {
    schema: "reedpath.retuning",
    version: 1,
    caution: REED_WORK_CAUTION,
    words: planInWords(plan),
    from: { ...harpToJson(from), measured: from.reedOffsets !== undefined },
    to: harpToJson(to),
    rules,
    totalCents: cents(sums.totalCents),
    largestCents: cents(sums.largestCents),
    worked: sums.worked,
    swapped: sums.swapped,
    days: sums.days,
    reeds: reeds.map((reed) => reedToJson(reed, plan)),
    idle: idle.map(({ hole, breath }) => ({ hole, breath })),
    valves,
    unmeasured,
    passes: passes.map(passToJson),
    pairs: pairs.map(pairToJson),
    warmthCentsPerDegree: WARMTH_CENTS_PER_DEGREE,
  };
}

function reedToJson({ change, work }: PlannedReed, { from, to }: RetuningPlan) {
  const { hole, breath, noteNow, noteWanted, nowHz, wantedHz, measuredOffCents } = change;
  return {
    hole,
    breath,
    noteNow: reedNamer(from)(noteNow),
    noteWanted: reedNamer(to)(noteWanted),
    nowHz: hertz(nowHz),
    wantedHz: hertz(wantedHz),
    changeCents: cents(change.changeCents),
    nowCents: cents(change.nowCents),
    wantedCents: cents(change.wantedCents),
    measuredOffCents: measuredOffCents === null ? null : cents(measuredOffCents),
    ...workToJson(work),
  };
}

function workToJson(work: ReedWork) {
  switch (work.kind) {
    case "leave":
      return { work: "leave" };
    case "raise":
      return { work: "raise", metal: "off the flat near the free tip" };
    case "lower":
      return { work: "lower", metal: work.mass ? "on near the free tip" : "off near the base" };
    case "swap":
      return {
        work: "swap",
        why: work.why,
        donor:
          work.donor === null
            ? null
            : { ...shortHarp(work.donor.harp), changeCents: cents(work.donor.changeCents) },
      };
  }
}

const passToJson = ({ number, steps, restDays }: Pass) => ({
  number,
  restDays,
  steps: steps.map(({ hole, breath, onlyCheck, shortCents, aimCents, aimHz }) => ({
    hole,
    breath,
    onlyCheck,
    shortCents: cents(shortCents),
    aimCents: cents(aimCents),
    aimHz: hertz(aimHz),
  })),
});

const pairToJson = ({ low, high, interval, ratio, beatsPerSecond, beatsPerCent, together }: ReedPair) => ({
  low,
  high,
  semitones: interval,
  ratio,
  beatsPerSecond: cents(beatsPerSecond),
  beatsPerCent: hertz(beatsPerCent),
  together,
});
