import { cents, semitones } from "../units.ts";
import type { Harp } from "./harp.ts";
import { BREATHS, reedAt, sameReeds } from "./layout.ts";
import type { ReedAction } from "./reed-actions.ts";
import { targetCents } from "./target-cents.ts";
import type { HoleCents } from "./temperament.ts";

/**
 * The measured offsets of a harp's reeds on the same harp meant to be tuned otherwise: a reed stays where it sounds, and what it
 * lies off by is counted from its new target.
 *
 * @param before with `reedOffsets`; a reed without one has none afterwards
 * @param after  of the same layout and key note
 */
export function offsetsCountedAnew(before: Harp, after: Harp): readonly HoleCents[] {
  const higherA = 1200 * Math.log2(after.a4 / before.a4);
  return before.layout.holes.map((_, place) => {
    const [blow = null, draw = null] = BREATHS.map((breath) => {
      const offset = before.reedOffsets?.[place]?.[breath] ?? null;
      if (offset === null || reedAt(before.layout, place + 1, breath) === null) return null;
      const reed: ReedAction = { hole: place + 1, breath, technique: "plain", bentSemitones: semitones(0) };
      return cents(offset + targetCents(before, reed) - targetCents(after, reed) - higherA);
    });
    return { blow, draw };
  });
}

/** A harp that takes the place of another, with what was measured of that one's reeds where they are the same reeds. */
export function withOffsetsOf(before: Harp, after: Harp): Harp {
  const same = before.keyNote === after.keyNote && sameReeds(before.layout, after.layout);
  if (before.reedOffsets === undefined || !same) return after;
  return { ...after, reedOffsets: offsetsCountedAnew(before, after) };
}
