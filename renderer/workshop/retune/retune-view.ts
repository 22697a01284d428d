import * as v from "valibot";
import type { Harp } from "../../../core/instrument/harp.ts";
import { harpShape } from "../../../core/instrument/harp-shape.ts";
import { stockLayout } from "../../../core/instrument/stock-layouts.ts";
import { practiceDay } from "../../../core/progress/practice-day.ts";
import type { KeptMeasurement } from "../../../core/workshop/measure/measurement.ts";
import { withMeasurement } from "../../../core/workshop/retune/measured-harp.ts";
import { LEAST_PASSES, MOST_PASSES } from "../../../core/workshop/retune/passes.ts";
import { LIMIT_BOUNDS } from "../../../core/workshop/retune/reed-work.ts";
import { type PlanRules, USUAL_RULES } from "../../../core/workshop/retune/retuning-plan.ts";
import type { OwnedHarp } from "../../store/harp-store.ts";
import { type ChosenHarp, choiceOfHarp, FIRST_HARP, harpOfChoice } from "../../ui/chosen-harp.ts";

/** What is looked at in the retuning plan. */
export interface RetuneView {
  /** Which of the player's own harps is retuned; null for another. */
  readonly ownId: string | null;
  /** The harp that is retuned where it is none of the player's own. */
  readonly other: ChosenHarp;
  readonly wanted: ChosenHarp;
  /** A4 of the wanted harp in Hz, 400 to 480; as in the settings where null. */
  readonly wantedA4Hz: number | null;
  readonly rules: PlanRules;
  /** The harp whose repair is open; null while a plan is looked at. */
  readonly openRepairOf: string | null;
}

const RULES: PlanRules = { ...USUAL_RULES, unmeasured: "take as they should sound" };

export const FIRST_RETUNE_VIEW: RetuneView = {
  ownId: null,
  other: FIRST_HARP,
  wanted: { ...FIRST_HARP, layout: stockLayout("raised-third-blow") ?? FIRST_HARP.layout },
  wantedA4Hz: null,
  rules: RULES,
  openRepairOf: null,
};

export const A4_BOUNDS = { low: 400, high: 480 } as const;

/** The harp to begin with: the player's own as it was measured last, or the other. */
export function beginningHarp(
  view: RetuneView,
  owned: readonly OwnedHarp[],
  a4Hz: number,
  measurement: KeptMeasurement | null = null,
): Harp {
  const own = owned.find(({ id }) => id === view.ownId);
  if (own === undefined) return harpOfChoice(view.other, a4Hz);
  return measurement === null ? own.harp : withMeasurement(own.harp, measurement);
}

/** The latest measurement of a harp that was not worked on since; null where there is none. */
export function standingMeasurement(
  own: OwnedHarp,
  latestFirst: readonly KeptMeasurement[],
): KeptMeasurement | null {
  const worked = (own.repairs ?? []).flatMap(({ doneOn }) => doneOn ?? []);
  const latest = latestFirst.find(({ reeds }) => reeds.some(({ outcome }) => outcome === "measured"));
  if (latest === undefined) return null;
  const on = practiceDay(latest.changedAtEpochMs, latest.zone);
  return worked.some((day) => day >= on) ? null : latest;
}

export const wantedHarp = (view: RetuneView, a4Hz: number): Harp =>
  harpOfChoice(view.wanted, view.wantedA4Hz ?? a4Hz);

/** The view as plain data that outlives a visit. */
export function retuneViewToKeep({ ownId, other, wanted, wantedA4Hz, rules }: RetuneView) {
  const { mostSemitones, toleranceCents, passes } = rules;
  const harps = { other: harpOfChoice(other, 440), wanted: harpOfChoice(wanted, 440) };
  return { ownId, ...harps, wantedA4Hz, mostSemitones, toleranceCents, passes };
}

const within = ({ low, high }: { readonly low: number; readonly high: number }) =>
  v.pipe(v.number(), v.minValue(low), v.maxValue(high));
const passesShape = v.pipe(within({ low: LEAST_PASSES, high: MOST_PASSES }), v.integer());

/** The view kept from the last visit; what of it makes no sense has its first value. */
export function retuneViewOfSettings(kept: Readonly<Record<string, unknown>> | null): RetuneView {
  const read = <T>(shape: v.GenericSchema<unknown, T>, field: string, first: T): T => {
    const result = v.safeParse(shape, kept?.[field]);
    return result.success ? result.output : first;
  };
  const choice = (field: string, first: ChosenHarp): ChosenHarp => {
    const result = v.safeParse(harpShape, kept?.[field]);
    if (!result.success) return first;
    const chosen = choiceOfHarp(result.output as unknown as Harp);
    return isMade(chosen) ? chosen : first;
  };
  return {
    ownId: read(v.nullable(v.string()), "ownId", FIRST_RETUNE_VIEW.ownId),
    other: choice("other", FIRST_RETUNE_VIEW.other),
    wanted: choice("wanted", FIRST_RETUNE_VIEW.wanted),
    wantedA4Hz: read(v.nullable(within(A4_BOUNDS)), "wantedA4Hz", null),
    rules: {
      ...RULES,
      mostSemitones: read(within(LIMIT_BOUNDS.mostSemitones), "mostSemitones", RULES.mostSemitones),
      toleranceCents: read(within(LIMIT_BOUNDS.toleranceCents), "toleranceCents", RULES.toleranceCents),
      passes: read(passesShape, "passes", RULES.passes),
    },
    openRepairOf: null,
  };
}

function isMade(chosen: ChosenHarp): boolean {
  try {
    return harpOfChoice(chosen, 440).keyNote > 0;
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}
