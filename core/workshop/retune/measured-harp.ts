import type { Harp } from "../../instrument/harp.ts";
import { BREATHS, type Breath, reedAt } from "../../instrument/layout.ts";
import { targetCents } from "../../instrument/target-cents.ts";
import type { HoleCents } from "../../instrument/temperament.ts";
import { type Cents, cents, semitones } from "../../units.ts";

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
    return cents(
      reading - targetCents(harp, { hole, breath, technique: "plain", bentSemitones: semitones(0) }),
    );
  };
  const reedOffsets = readings.map((reading, index): HoleCents => {
    const [blow = null, draw = null] = BREATHS.map((breath) => offOf(index + 1, breath, reading[breath]));
    return { blow, draw };
  });
  return { ...harp, reedOffsets };
}
