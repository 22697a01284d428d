/** Notes of a spot: how many, how many in trouble, and how many would be were it as usual. */
export interface Shares {
  readonly asked: number;
  readonly troubled: number;
  readonly usualTroubled: number;
}

/**
 * How much notes of one spot are alike, 0..1: what the spots differ by from the usual beyond what chance alone makes of so few
 * notes. 0 where they differ no more than by chance.
 *
 * Source: the correlation within of a beta-binomial, by moments: J. C. Kleinman, JASA 68 (1973) 46-54.
 */
export function alikeWithin(spots: readonly Shares[]): number {
  let [beyondChance, most] = [0, 0];
  for (const { asked, troubled, usualTroubled } of spots) {
    const chance = usualTroubled * (1 - usualTroubled / asked);
    beyondChance += (troubled - usualTroubled) ** 2 - chance;
    most += (asked - 1) * chance;
  }
  return most <= 0 ? 0 : Math.min(Math.max(beyondChance / most, 0), 1);
}

/**
 * Share to be expected of a spot: its own moved towards the usual, the further the fewer notes it has and the less spots differ.
 *
 * Source: the mean of a beta distribution after binomial counts; that such estimates of many serve better than each
 * by itself, B. Efron and C. Morris, JASA 70 (1975) 311-319.
 */
export function expectedShare({ asked, troubled, usualTroubled }: Shares, alike: number): number {
  const usual = usualTroubled / asked;
  const own = (asked * alike) / (1 + (asked - 1) * alike);
  return usual + own * (troubled / asked - usual);
}
