import type { Random } from "../../core/exercise/seeded-random.ts";

export const chance = (random: Random, share: number): boolean => random() < share;

/** A whole number, both ends included. */
export const wholeFrom = (random: Random, low: number, high: number): number =>
  low + Math.floor(random() * (high - low + 1));

export function oneOf<T>(random: Random, choices: readonly T[]): T {
  const chosen = choices[Math.floor(random() * choices.length)];
  if (chosen === undefined) throw new RangeError("nothing to choose from");
  return chosen;
}
