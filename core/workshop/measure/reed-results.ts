import type { Harp } from "../../instrument/harp.ts";
import type { HoleCents } from "../../instrument/temperament.ts";
import { midiToHz } from "../../pitch/equal-temperament.ts";
import { type Cents, cents, type Hz } from "../../units.ts";
import { type AgreedReading, agreedReading } from "./agreement.ts";
import { targetMidiOf } from "./harp-sounds.ts";
import type { Outcome, ReedMeasurement } from "./measurement.ts";
import { type ReedPlace, samePlace } from "./reed-reading.ts";

/**
 * A reed that lies a semitone or more below its note without having been tuned so is fatigued: to be replaced, not tuned
 * (harmonica upkeep page, diatonic.tripod.com/Tuning.html). A tenth of a semitone is allowed for what it was off before.
 */
export const FAILING_CENTS = -90;

/** Three cents by meter is a fair goal for a harp (common practice). */
export const IN_TUNE_CENTS = 3;

/** What one reed of a harp came to. */
export interface ReedResult extends ReedPlace {
  readonly outcome: Outcome | null;
  /** What it should sound by the harp's temperament and A4. */
  readonly targetHz: Hz;
  /** What it sounds; null unless something was read. */
  readonly hz: Hz | null;
  /** From its target; positive is sharp. */
  readonly offsetCents: Cents | null;
  readonly read: AgreedReading | null;
  /** A semitone or more below its note. */
  readonly failing: boolean;
}

/**
 * Every reed against the scheme a harp should be tuned to.
 *
 * @param harp the scheme to hold it against: that of the measurement itself, or the same layout and key tuned otherwise
 */
export function reedResults(
  measurement: ReedMeasurement,
  harp: Harp = measurement.harp,
): readonly ReedResult[] {
  return measurement.reeds.map(({ hole, breath, readings, outcome }) => {
    const place = { hole, breath };
    const target = targetMidiOf(harp, place);
    const read = outcome === "measured" || outcome === null ? agreedReading(readings) : null;
    const offsetCents = read === null ? null : cents(100 * (read.midi - target));
    return {
      ...place,
      outcome,
      targetHz: midiToHz(target),
      hz: read === null ? null : midiToHz(read.midi),
      offsetCents,
      read,
      failing: offsetCents !== null && offsetCents <= FAILING_CENTS,
    };
  });
}

export const resultAt = (results: readonly ReedResult[], place: ReedPlace): ReedResult | null =>
  results.find((result) => samePlace(result, place)) ?? null;

/** A reed further off than this is another note to whoever listens: nothing is taken off for it. */
export const MOST_TAKEN_OFF_CENTS = 50;

/**
 * The reeds' own offsets as a harp carries them, from where they should lie by that harp; null for a reed that was not
 * measured or lies too far off to be taken off.
 */
export function offsetsFor(harp: Harp, measurement: ReedMeasurement): readonly HoleCents[] {
  const results = reedResults(measurement, harp);
  const offset = (hole: number, breath: ReedPlace["breath"]): Cents | null => {
    const result = resultAt(results, { hole, breath });
    if (result === null || result.outcome !== "measured" || result.offsetCents === null) return null;
    // A hundredth of a cent is finer than any reading.
    return Math.abs(result.offsetCents) > MOST_TAKEN_OFF_CENTS
      ? null
      : cents(Math.round(100 * result.offsetCents) / 100 + 0);
  };
  return harp.layout.holes.map((_, place) => ({
    blow: offset(place + 1, "blow"),
    draw: offset(place + 1, "draw"),
  }));
}
