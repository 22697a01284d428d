import { median } from "../../listen/median.ts";
import { type Cents, cents } from "../../units.ts";
import { type AgreedReading, agreedReading } from "./agreement.ts";
import { centsInWords, listInWords, reedInWords } from "./measure-words.ts";
import type { KeptMeasurement } from "./measurement.ts";
import { type ReedPlace, samePlace } from "./reed-reading.ts";
import { FAILING_CENTS } from "./reed-results.ts";
import { sameNotes } from "./same-harp.ts";

/** A change smaller than this is breath and warmth: a reed falls some 0.3 cents for each degree. Common practice, no source. */
const CLEAR_CENTS = 3;
/** The middle of fewer reeds says nothing of the whole harp. */
const REEDS_FOR_COMMON = 5;

/** How one reed has moved between two measurements. */
export interface ReedDrift extends ReedPlace {
  /** All of it; negative is lower. */
  readonly cents: Cents;
  /** What is left when the whole harp's common change is taken off. */
  readonly ownCents: Cents;
  /** More than the two measurements' own scatter and what breath and warmth do. */
  readonly clear: boolean;
  /** A semitone lower by itself: the reed is failing. */
  readonly failing: boolean;
}

/** How a harp has moved since the first measurement after its reeds were last worked on. */
export interface HarpDrift {
  readonly fromEpochMs: number;
  readonly toEpochMs: number;
  /** Measurements in between, both ends included; >= 2. */
  readonly measurements: number;
  /** What all reeds have in common, from the first to the last: warmth, breath. 0 where too few reeds were measured in both. */
  readonly commonCents: Cents;
  /** Reeds measured more than once. */
  readonly reeds: readonly ReedDrift[];
}

/**
 * Drift of a harp's reeds: of each from the first time it was measured to the last, as far as the whole harp did not move with it.
 *
 * @param measurements of one harp, any order
 * @returns null where no reed was measured twice since the reeds were worked on
 */
export function driftOf(measurements: readonly KeptMeasurement[]): HarpDrift | null {
  const run = sinceReedWork([...measurements].sort((a, b) => a.beganAtEpochMs - b.beganAtEpochMs));
  const [first, last] = [run[0], run.at(-1)];
  if (first === undefined || last === undefined || first === last) return null;
  const common = run.map((one) => commonChange(first, one));
  const reeds = last.reeds.flatMap(({ hole, breath }) => reedDrift({ hole, breath }, run, common));
  if (reeds.length === 0) return null;
  return {
    fromEpochMs: first.beganAtEpochMs,
    toEpochMs: last.beganAtEpochMs,
    measurements: run.length,
    commonCents: cents(common.at(-1) ?? 0),
    reeds,
  };
}

function reedDrift(
  place: ReedPlace,
  run: readonly KeptMeasurement[],
  common: readonly number[],
): readonly ReedDrift[] {
  const read = run.flatMap((one, n) => {
    const agreed = readOf(one, place);
    return agreed === null ? [] : [{ agreed, common: common[n] ?? 0 }];
  });
  const [before, after] = [read[0], read.at(-1)];
  if (before === undefined || after === undefined || before === after) return [];
  const change = 100 * (after.agreed.midi - before.agreed.midi);
  const own = change - (after.common - before.common);
  const scatter = (before.agreed.rangeCents + after.agreed.rangeCents) / 2;
  return [
    {
      ...place,
      cents: cents(change),
      ownCents: cents(own),
      clear: Math.abs(own) > CLEAR_CENTS + scatter,
      failing: own <= FAILING_CENTS,
    },
  ];
}

/** What the reeds measured both times have in common; 0 where they are too few. */
function commonChange(first: KeptMeasurement, other: KeptMeasurement): number {
  const changes = other.reeds.flatMap((reed) => {
    const [before, after] = [readOf(first, reed), readOf(other, reed)];
    return before === null || after === null ? [] : [100 * (after.midi - before.midi)];
  });
  return changes.length < REEDS_FOR_COMMON ? 0 : median(changes);
}

function readOf({ reeds }: KeptMeasurement, place: ReedPlace): AgreedReading | null {
  const reed = reeds.find((one) => samePlace(one, place));
  return reed?.outcome === "measured" ? agreedReading(reed.readings) : null;
}

/** From the last measurement made right after reed work, or from the first of a harp with the notes it has now. */
function sinceReedWork(byTime: readonly KeptMeasurement[]): readonly KeptMeasurement[] {
  const withReeds = byTime.filter(({ reeds }) => reeds.some(({ outcome }) => outcome === "measured"));
  const last = withReeds.at(-1);
  if (last === undefined) return [];
  const work = withReeds.findLastIndex(({ afterReedWork }) => afterReedWork);
  const other = withReeds.findLastIndex(({ harp }) => !sameNotes(harp, last.harp));
  return withReeds.slice(Math.max(0, work, other + 1));
}

/** What the drift comes to, the gravest first. */
export function driftInWords(drift: HarpDrift): readonly string[] {
  const failing = drift.reeds.filter((reed) => reed.failing);
  const moved = drift.reeds
    .filter((reed) => reed.clear && !reed.failing)
    .sort((a, b) => Math.abs(b.ownCents) - Math.abs(a.ownCents));
  const told = moved.map((reed) => `${reedInWords(reed)} ${centsInWords(reed.ownCents)}`);
  return [
    ...failing.map(
      (reed) =>
        `${reedInWords(reed)} has fallen ${Math.abs(reed.ownCents).toFixed(0)} cents by itself: it is failing. Replace it, do not tune it.`,
    ),
    `The harp as a whole: ${centsInWords(drift.commonCents)}. Warmth and breath move all reeds together.`,
    told.length === 0
      ? `No reed has clearly moved by itself, of ${drift.reeds.length} measured more than once.`
      : `Moved by themselves: ${listInWords(told)}.`,
  ];
}
