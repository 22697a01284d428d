import { median } from "../../listen/median.ts";
import { type Cents, cents } from "../../units.ts";
import { type AgreedReading, agreedReading } from "./agreement.ts";
import { centsInWords, listInWords, reedInWords } from "./measure-words.ts";
import type { KeptMeasurement, MeasuredReed } from "./measurement.ts";
import { type ReedPlace, samePlace } from "./reed-reading.ts";
import { FAILING_CENTS } from "./reed-results.ts";

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
  /** What all reeds have in common: warmth, breath, another microphone's clock. 0 where too few reeds were measured twice. */
  readonly commonCents: Cents;
  /** Reeds measured in both. */
  readonly reeds: readonly ReedDrift[];
}

/**
 * Drift of a harp's reeds.
 *
 * @param measurements of one harp, any order; those whose harp has another note on a reed are left out for that reed
 * @returns null where there are no two measurements since the reeds were worked on
 */
export function driftOf(measurements: readonly KeptMeasurement[]): HarpDrift | null {
  const run = sinceReedWork([...measurements].sort((a, b) => a.beganAtEpochMs - b.beganAtEpochMs));
  const [first, last] = [run[0], run.at(-1)];
  if (first === undefined || last === undefined || first === last) return null;
  const both = last.reeds.flatMap((reed) => readTwice(first, reed));
  if (both.length === 0) return null;
  const changes = both.map(({ before, after }) => 100 * (after.midi - before.midi));
  const common = changes.length < REEDS_FOR_COMMON ? 0 : median(changes);
  return {
    fromEpochMs: first.beganAtEpochMs,
    toEpochMs: last.beganAtEpochMs,
    measurements: run.length,
    commonCents: cents(common),
    reeds: both.map(({ place, before, after }, n) => {
      const change = changes[n] ?? 0;
      const own = change - common;
      const scatter = (before.rangeCents + after.rangeCents) / 2;
      return {
        ...place,
        cents: cents(change),
        ownCents: cents(own),
        clear: Math.abs(own) > CLEAR_CENTS + scatter,
        failing: own <= FAILING_CENTS,
      };
    }),
  };
}

/** From the last measurement made right after reed work, or from the first. */
function sinceReedWork(byTime: readonly KeptMeasurement[]): readonly KeptMeasurement[] {
  const withReeds = byTime.filter(({ reeds }) => reeds.some(({ outcome }) => outcome === "measured"));
  const work = withReeds.findLastIndex(({ afterReedWork }) => afterReedWork);
  return withReeds.slice(Math.max(0, work));
}

interface ReadTwice {
  readonly place: ReedPlace;
  readonly before: AgreedReading;
  readonly after: AgreedReading;
}

function readTwice(first: KeptMeasurement, reed: MeasuredReed): readonly ReadTwice[] {
  const earlier = first.reeds.find((one) => samePlace(one, reed));
  const before = earlier?.outcome === "measured" ? agreedReading(earlier.readings) : null;
  const after = reed.outcome === "measured" ? agreedReading(reed.readings) : null;
  if (before === null || after === null) return [];
  return [{ place: { hole: reed.hole, breath: reed.breath }, before, after }];
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
    `The harp as a whole: ${centsInWords(drift.commonCents)}. Warmth, breath and the microphone do that much together.`,
    told.length === 0
      ? `No reed has clearly moved by itself, of ${drift.reeds.length} measured both times.`
      : `Moved by themselves: ${listInWords(told)}.`,
  ];
}
