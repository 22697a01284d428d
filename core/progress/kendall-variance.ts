import type { Compared } from "./like-pairs.ts";

/** What the signs of all comparisons say, whatever the order of the places. */
export interface Signs {
  /** Comparisons with a difference. */
  readonly decided: number;
  /** How much two comparisons of one place with two others go together, 0..1/3; a third where all values differ. */
  readonly together: number;
}

export function signsOf({ perPlace }: Compared): Signs {
  let [decided, products, threes] = [0, 0, 0];
  for (const { earlier, later, above, below } of perPlace) {
    decided += above + below;
    products += (above - below) ** 2 - (above + below);
    threes += (earlier + later) * (earlier + later - 1);
  }
  const together = threes === 0 ? 0 : Math.min(Math.max(products / threes, 0), 1 / 3);
  return { decided: decided / 2, together };
}

/** How much the order of the places makes comparisons with a place in common add up: large where it is first or last in both. */
export const orderOf = ({ perPlace }: Compared): number =>
  perPlace.reduce((sum, { earlier, later }) => sum + (later - earlier) ** 2 - (earlier + later), 0);

/**
 * Variance of S, the sum of the signs of all comparisons, where the order of the places means nothing.
 *
 * Two comparisons that share a place go together in the same direction if that is first or last in both, against one another
 * otherwise. How much they do is counted from the comparisons themselves, which takes in ties and rows that disagree. Where
 * all places are compared in one row this is exactly Kendall's variance with ties in y (M. G. Kendall, Rank Correlation
 * Methods, 4th ed. 1970, chapter 5).
 */
export function varianceOfS({ decided, together }: Signs, order: number): number {
  // A row of places each compared with the next alone has (n + 1) / 3 for n - 1 comparisons; none has less than a third each.
  return Math.max(decided + together * order, decided / 3);
}
