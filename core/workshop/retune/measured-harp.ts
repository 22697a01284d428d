import type { Harp } from "../../instrument/harp.ts";
import { BREATHS, type Breath, reedAt, sameReeds } from "../../instrument/layout.ts";
import { targetCents } from "../../instrument/target-cents.ts";
import type { HoleCents } from "../../instrument/temperament.ts";
import { type Cents, cents } from "../../units.ts";
import { plainAction } from "../measure/harp-sounds.ts";
import type { ReedMeasurement } from "../measure/measurement.ts";
import { reedResults, resultAt } from "../measure/reed-results.ts";

/** Further off a reed is another one, or was misheard. */
export const MOST_OFF_CENTS = 300;

/**
 * The harp as it was measured, each reed off what it should sound by what was read of it, one that has fallen far too.
 *
 * @returns the harp as it is where another harp was measured: other reeds, or another key note
 */
export function withMeasurement(harp: Harp, measurement: ReedMeasurement): Harp {
  const { harp: measured } = measurement;
  if (measured.keyNote !== harp.keyNote || !sameReeds(measured.layout, harp.layout)) return harp;
  const results = reedResults(measurement, harp);
  const offOf = (hole: number, breath: Breath): Cents | null => {
    const off = resultAt(results, { hole, breath })?.offsetCents ?? null;
    return off === null || Math.abs(off) > MOST_OFF_CENTS ? null : off;
  };
  const reedOffsets = harp.layout.holes.map((_, place) => ({
    blow: offOf(place + 1, "blow"),
    draw: offOf(place + 1, "draw"),
  }));
  return { ...harp, reedOffsets };
}

/**
 * The harp with readings of its reeds.
 *
 * @param readings cents against equal temperament on the harp's own A4, hole 1 first, as many as it has holes; null where
 *                 there is none
 * @returns the harp with `reedOffsets` from what each reed should sound
 */
export function withReadings(harp: Harp, readings: readonly HoleCents[]): Harp {
  const offOf = (hole: number, breath: Breath, reading: Cents | null): Cents | null => {
    if (reading === null || reedAt(harp.layout, hole, breath) === null) return null;
    return cents(reading - targetCents(harp, plainAction({ hole, breath })));
  };
  const reedOffsets = readings.map((reading, index): HoleCents => {
    const [blow = null, draw = null] = BREATHS.map((breath) => offOf(index + 1, breath, reading[breath]));
    return { blow, draw };
  });
  return { ...harp, reedOffsets };
}
