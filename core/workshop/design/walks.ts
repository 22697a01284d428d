import { changedOf } from "./allowed.ts";
import type { Aim } from "./descend.ts";
import type { HoleChoice } from "./hole-choices.ts";

/** More than all effort there is. */
const BEFORE_ALL = 10_000;
/** Twice what a bend by a semitone costs. A starting point, no source. */
const SOME = 3;
/** From missing and bent notes before everything to effort alone; a missing note costs effort in all of them. */
const AIMS: readonly Aim[] = [
  { notPlainEffort: BEFORE_ALL, missingEffort: 0 },
  { notPlainEffort: BEFORE_ALL, missingEffort: 10 * BEFORE_ALL },
  { notPlainEffort: SOME, missingEffort: 10 * BEFORE_ALL },
  { notPlainEffort: 0, missingEffort: 10 * BEFORE_ALL },
];

/**
 * What all walks of a round have in common: where the major scale of every tune begins, in semitones above the key note (null for
 * wherever it lies best on the layout a walk begins from), and which aims there are. Good layouts hang on where the tunes lie, so
 * those with everything in first position, in second, a fourth up (twelfth) and a tone up (third) are looked for by themselves.
 */
export interface Round {
  readonly above: number | null;
  readonly aims: readonly Aim[];
}

const CHIEF_AIMS = AIMS.filter(
  ({ missingEffort, notPlainEffort }) => missingEffort > 0 && notPlainEffort !== SOME,
);

export const SEARCH_ROUNDS: readonly Round[] = [
  ...[0, 7, 5, 2].map((above) => ({ above, aims: CHIEF_AIMS })),
  { above: null, aims: AIMS },
];

/** One number of changes and one aim. */
export interface Walk {
  readonly mostChanged: number;
  readonly aim: Aim;
  /** Where it begins among all walks of a round, and how much of it it is, 0..1. */
  readonly share: number;
  readonly part: number;
}

/** Every number of changes from the fewest of the seeds on with every aim of a round. */
export function walksOf(
  aims: readonly Aim[],
  seeds: readonly (readonly HoleChoice[])[],
  mostChanged: number,
): readonly Walk[] {
  const fewest = Math.min(...seeds.map(changedOf));
  const counts = Array.from({ length: mostChanged - fewest + 1 }, (_, more) => fewest + more);
  const walks = counts.flatMap((count) => aims.map((aim) => ({ mostChanged: count, aim })));
  // With more changes there are more exchanges to try before a walk is at its end.
  const all = walks.reduce((sum, walk) => sum + 1 + walk.mostChanged, 0);
  let share = 0;
  return walks.map((walk) => {
    const part = (1 + walk.mostChanged) / all;
    share += part;
    return { ...walk, share: share - part, part };
  });
}
