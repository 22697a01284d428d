import { type SchemeId, schemeCents, tuningScheme } from "../pitch/tuning-schemes.ts";
import { type Cents, cents } from "../units.ts";
import type { Breath } from "./layout.ts";

/** Deviations of one hole's reeds from equal temperament in cents; null where nothing is known or there is no reed. */
export interface HoleCents {
  readonly blow: Cents | null;
  readonly draw: Cents | null;
}

/**
 * How a harp's reeds are tuned against each other, as plain data. All deviations are from equal temperament on the harp's
 * own A4; the key note of a scheme or scale deviates by 0.
 */
export type Temperament = (
  | { readonly kind: "equal" }
  /** A just or mixed scheme counted from the key note. */
  | { readonly kind: "scheme"; readonly scheme: SchemeId }
  /** A scale from a file, begun on the key note: cents above it, ascending or not, ending on the octave. */
  | { readonly kind: "scale"; readonly name: string; readonly steps: readonly Cents[] }
  /** The player's own cents for each reed, hole 1 first. */
  | { readonly kind: "reeds"; readonly name: string; readonly holes: readonly HoleCents[] }
) & {
  /**
   * Cents by which each octave above the key note is wider than 1200; 0 when absent. One tuner uses 2 (Hansson, Theory of
   * harmonica tuning). A player's own cents hold it already, so it is not added to those.
   */
  readonly stretchCentsPerOctave?: Cents;
};

export const EQUAL: Temperament = { kind: "equal" };

/** A step of a scale further than this from a semitone of the harp is another note. */
const NEAREST_STEP_CENTS = 50;

/**
 * Deviation from equal temperament of a note, by its distance from the key note. For a player's own cents: 0, for those
 * belong to reeds and not to notes.
 *
 * @param aboveKey whole semitones, negative below the key note
 */
export function temperedCents(temperament: Temperament, aboveKey: number): Cents {
  const stretch = ((temperament.stretchCentsPerOctave ?? 0) * aboveKey) / 12;
  switch (temperament.kind) {
    case "equal":
      return cents(stretch);
    case "scheme":
      return cents(schemeCents(tuningScheme(temperament.scheme), aboveKey) + stretch);
    case "scale":
      return cents(scaleCents(temperament.steps, aboveKey) + stretch);
    case "reeds":
      return cents(0);
  }
}

/** Deviation a player gave for a reed; 0 where none was given. */
export function ownCents(temperament: Temperament, hole: number, breath: Breath): Cents {
  return temperament.kind === "reeds" ? (temperament.holes[hole - 1]?.[breath] ?? cents(0)) : cents(0);
}

/**
 * A scale of twelve steps gives its n-th step to the n-th semitone; another count gives each semitone the nearest step
 * within 50 cents, and the equal-tempered note where there is none.
 */
function scaleCents(steps: readonly Cents[], aboveKey: number): number {
  const octaves = Math.floor(aboveKey / 12);
  const semitone = aboveKey - 12 * octaves;
  const octaveExcess = octaves * ((steps.at(-1) ?? 1200) - 1200);
  if (semitone === 0) return octaveExcess;
  if (steps.length === 12) return octaveExcess + (steps[semitone - 1] ?? 100 * semitone) - 100 * semitone;
  const deviations = steps.map((step) => step - 100 * semitone);
  const nearest = deviations.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a), Number.POSITIVE_INFINITY);
  return octaveExcess + (Math.abs(nearest) <= NEAREST_STEP_CENTS ? nearest : 0);
}

/** What a player reads of a temperament. */
export function temperamentName(temperament: Temperament): string {
  switch (temperament.kind) {
    case "equal":
      return "equal";
    case "scheme":
      return tuningScheme(temperament.scheme).name;
    default:
      return temperament.name;
  }
}
