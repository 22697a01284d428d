import { numeralOf } from "../../instrument/numerals.ts";
import { modeOn } from "../../instrument/scale-report.ts";
import { sevenDegrees } from "../../instrument/triads.ts";
import type { Mode } from "../../pitch/modes.ts";
import { pitchClass } from "../../pitch/note-names.ts";
import { type DesignWish, scaleName } from "./wish.ts";

/** A major or minor triad of a scale asked for. */
export interface WantedTriad {
  /** "I", "ii": in the scale it was first found in. */
  readonly numeral: string;
  /** Of that scale, as the player calls it: "G major". */
  readonly scale: string;
  /** Root, third and fifth as pitch classes above the key note, as bits. */
  readonly notes: number;
}

/** Three neighbouring holes of one breath are what a mouth takes at once without care. Common practice. */
export const TRIAD_HOLES = 3;

/**
 * The major and minor triads on the degrees of scales, thirds stacked within each; the same chord of two scales once. A scale of
 * other than seven degrees has those of major or, with a minor third, of minor, as everywhere in the program.
 *
 * @param scales home note in semitones above the key note, mode, and a name for the scale
 */
export function wantedTriads(
  scales: readonly { readonly home: number; readonly mode: Mode; readonly name: string }[],
): readonly WantedTriad[] {
  const found: WantedTriad[] = [];
  for (const { home, mode, name } of scales) {
    const degrees = sevenDegrees(modeOn(pitchClass(home), mode));
    for (const [index, degree] of degrees.entries()) {
      const above = (steps: number) =>
        pitchClass((degrees[(index + steps) % 7]?.aboveHome ?? 0) - degree.aboveHome);
      if (above(4) !== 7 || (above(2) !== 3 && above(2) !== 4)) continue;
      const root = home + degree.aboveHome;
      const notes = bitOf(root) | bitOf(root + above(2)) | bitOf(root + 7);
      if (found.some((one) => one.notes === notes)) continue;
      found.push({ numeral: numeralOf(degree.aboveHome, degrees, above(2) === 3), scale: name, notes });
    }
  }
  return found;
}

const bitOf = (note: number) => 1 << pitchClass(note);

/** Pitch classes of neighbouring reeds as bits; -1 where one is missing. */
export function notesOfReeds(reeds: readonly (number | null)[]): number {
  let bits = 0;
  for (const reed of reeds) {
    if (reed === null) return -1;
    bits |= bitOf(reed);
  }
  return bits;
}

/** The triads of a wish's scales. */
export function triadsOfWish({ harp, scales }: DesignWish): readonly WantedTriad[] {
  return wantedTriads(
    scales.map((scale) => ({ home: scale.home - harp.keyNote, mode: scale.mode, name: scaleName(scale) })),
  );
}

/** The triads a wish must have, each as pitch classes in bits; of a numeral that several scales have the first one's. */
export function triadsToHave(wish: DesignWish): readonly number[] {
  const triads = triadsOfWish(wish);
  return wish.mustHave.flatMap((numeral) => triads.find((triad) => triad.numeral === numeral)?.notes ?? []);
}
