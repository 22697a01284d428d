import type { Harp } from "../../instrument/harp.ts";
import { type Breath, reedAt } from "../../instrument/layout.ts";
import { targetCents } from "../../instrument/target-cents.ts";
import type { HoleCents } from "../../instrument/temperament.ts";
import { referencePitchCents } from "../../pitch/equal-temperament.ts";
import { daysAfter, type PracticeDay } from "../../progress/practice-day.ts";
import { type Cents, cents } from "../../units.ts";
import { plainAction } from "../measure/harp-sounds.ts";
import type { ReedPlace } from "../measure/reed-reading.ts";
import { type PlanRules, type RetuningPlan, retuningPlan } from "./retuning-plan.ts";

/** A retuning under way or done: from what to what, and what the meter read. */
export interface Repair {
  readonly id: string;
  /** The harp as it was meant to be tuned. */
  readonly from: Harp;
  readonly to: Harp;
  readonly rules: PlanRules;
  readonly begunOn: PracticeDay;
  /** What a meter on the wanted A read before, from the note each reed had; null where it was not read. Hole 1 first. */
  readonly before: readonly HoleCents[];
  /** The passes done, in order. */
  readonly passes: readonly RepairPass[];
  /** What was read in the pass that is going on. */
  readonly reading: readonly HoleCents[];
  /** The day the harp became the wanted one; null while it has not. */
  readonly doneOn: PracticeDay | null;
}

/** A pass that was done: when, and what the meter read then, from the note wanted. */
export interface RepairPass {
  readonly on: PracticeDay;
  readonly read: readonly HoleCents[];
}

const NO_READING: HoleCents = { blow: null, draw: null };
const nothingRead = ({ layout }: Harp) => layout.holes.map(() => NO_READING);

/** Begins what a plan says; what was measured counts as read before. */
export function beginRepair(id: string, plan: RetuningPlan, begunOn: PracticeDay): Repair {
  const before = plan.reeds.reduce<readonly HoleCents[]>(
    (readings, { change }) =>
      change.measuredOffCents === null ? readings : withReading(readings, change, tenth(change.nowCents)),
    nothingRead(plan.from),
  );
  // What was measured stands under what was read before.
  const { reedOffsets: _, ...from } = plan.from;
  const { to, rules } = plan;
  return { id, from, to, rules, begunOn, before, passes: [], reading: nothingRead(to), doneOn: null };
}

/** Which readings of a repair are written: before the work, or in the pass going on. */
export type ReadingOf = "before" | "now";

/** The repair with one reading written down, or taken back with null. */
export function withRepairReading(
  repair: Repair,
  of: ReadingOf,
  place: ReedPlace,
  read: Cents | null,
): Repair {
  return of === "before"
    ? { ...repair, before: withReading(repair.before, place, read) }
    : { ...repair, reading: withReading(repair.reading, place, read) };
}

function withReading(
  readings: readonly HoleCents[],
  { hole, breath }: ReedPlace,
  read: Cents | null,
): readonly HoleCents[] {
  return readings.map((one, index) => (index === hole - 1 ? { ...one, [breath]: read } : one));
}

const tenth = (value: number) => cents(Math.round(10 * value) / 10);

/** The pass going on, counted from 1; null once all are done. */
export function passNow({ passes, rules }: Repair): number | null {
  return passes.length < rules.passes ? passes.length + 1 : null;
}

/** The repair with the pass going on done on a day; as it is where all are done. */
export function passDone(repair: Repair, on: PracticeDay): Repair {
  if (passNow(repair) === null) return repair;
  return {
    ...repair,
    passes: [...repair.passes, { on, read: repair.reading }],
    reading: nothingRead(repair.to),
  };
}

/** The repair with its last pass going on again; as it is where none was done. */
export function passUndone(repair: Repair): Repair {
  const last = repair.passes.at(-1);
  return last === undefined ? repair : { ...repair, passes: repair.passes.slice(0, -1), reading: last.read };
}

/** The plan by what was read before: a reed that was not read is taken as it should sound. Null where there is none. */
export function planOfRepair(repair: Repair): RetuningPlan | null {
  const { from, to, rules, before } = repair;
  const onOtherA = referencePitchCents(to.a4) - referencePitchCents(from.a4);
  const offOf = (hole: number, breath: Breath): Cents | null => {
    const read = before[hole - 1]?.[breath] ?? null;
    if (read === null || reedAt(from.layout, hole, breath) === null) return null;
    return cents(read + onOtherA - targetCents(from, plainAction({ hole, breath })));
  };
  const reedOffsets = from.layout.holes.map((_, index) => ({
    blow: offOf(index + 1, "blow"),
    draw: offOf(index + 1, "draw"),
  }));
  const { reedOffsets: _, ...meant } = from;
  const wasRead = before.some(({ blow, draw }) => blow !== null || draw !== null);
  const made = retuningPlan(wasRead ? { ...meant, reedOffsets } : meant, to, {
    ...rules,
    unmeasured: "take as they should sound",
  });
  return made.kind === "plan" ? made.plan : null;
}

/** The first day the next pass may be done on, after the rest; null before the first pass and after the last. */
export function nextPassOn(repair: Repair, plan: RetuningPlan): PracticeDay | null {
  const last = repair.passes.at(-1);
  if (last === undefined || passNow(repair) === null) return null;
  return daysAfter(last.on, plan.passes[repair.passes.length - 1]?.restDays ?? 0);
}

/**
 * What the harp is once the work is done: the wanted one, each reed off by what was read last of it, those not read in any
 * pass by what was read before them, where the reed was left alone.
 */
export function harpOfRepair(repair: Repair, plan: RetuningPlan): Harp {
  const { to } = repair;
  const last = [...repair.passes].reverse();
  const offOf = (hole: number, breath: Breath): Cents | null => {
    const target = targetCentsOrNull(to, hole, breath);
    if (target === null) return null;
    const read = last.map((pass) => pass.read[hole - 1]?.[breath] ?? null).find((one) => one !== null);
    if (read !== undefined) return cents(read - target);
    const reed = plan.reeds.find(({ change }) => change.hole === hole && change.breath === breath);
    if (reed?.work.kind !== "leave" || reed.change.measuredOffCents === null) return null;
    return cents(-reed.change.changeCents);
  };
  const reedOffsets = to.layout.holes.map((_, index) => ({
    blow: bounded(offOf(index + 1, "blow")),
    draw: bounded(offOf(index + 1, "draw")),
  }));
  return reedOffsets.some(({ blow, draw }) => blow !== null || draw !== null) ? { ...to, reedOffsets } : to;
}

function targetCentsOrNull(harp: Harp, hole: number, breath: Breath): Cents | null {
  return reedAt(harp.layout, hole, breath) === null ? null : targetCents(harp, plainAction({ hole, breath }));
}

/** Beyond a semitone a reed is another note: such a reading says nothing of the one wanted. */
const bounded = (off: Cents | null) => (off === null || Math.abs(off) > 100 ? null : tenth(off));
