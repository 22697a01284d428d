import type { Harp } from "../../instrument/harp.ts";
import { BREATHS, type Breath } from "../../instrument/layout.ts";
import { type Cents, cents } from "../../units.ts";
import type { RetuningLimits } from "./reed-work.ts";
import { fitOfReeds, type StockFit } from "./stock-to-buy.ts";

/** A blow plate of one harp and a draw plate of another, put on one comb. */
export interface TwoPlates {
  readonly blow: StockFit;
  readonly draw: StockFit;
  readonly totalCents: Cents;
  readonly largestCents: Cents;
  readonly worked: number;
  readonly swapped: number;
}

/**
 * Two harps of which each gives one plate, such that no other two, and no single harp, are as near in both the sum of changes and
 * the largest one; the least total first. Of two harps equal for a plate the first counts.
 *
 * @param stock  harps that can be bought, those most easily had first
 * @param single what single harps come to: only what is better than all of them in one measure is worth two harps
 */
export function twoPlates(
  wanted: Harp,
  stock: readonly Harp[],
  limits: RetuningLimits,
  single: readonly StockFit[],
): readonly TwoPlates[] {
  const [blows = [], draws = []] = BREATHS.map((breath) => platesOf(wanted, stock, limits, breath));
  const bounds = [...new Set([...blows, ...draws].map(({ largestCents }) => largestCents))].sort(
    (a, b) => a - b,
  );
  const found: TwoPlates[] = [];
  for (const bound of bounds) {
    const pair = joined(leastWithin(blows, bound), leastWithin(draws, bound));
    if (pair === null) continue;
    const isBeaten = [...found, ...single].some(
      ({ totalCents, largestCents }) => totalCents <= pair.totalCents && largestCents <= pair.largestCents,
    );
    if (!isBeaten) found.push(pair);
  }
  return found.reverse();
}

const platesOf = (wanted: Harp, stock: readonly Harp[], limits: RetuningLimits, breath: Breath) =>
  stock.flatMap((harp) => fitOfReeds(harp, wanted, limits, (reed) => reed.breath === breath) ?? []);

/** The least total of those whose largest change is within a bound; the first of equals. */
const leastWithin = (fits: readonly StockFit[], bound: number): StockFit | null =>
  fits
    .filter(({ largestCents }) => largestCents <= bound)
    .reduce<StockFit | null>(
      (best, fit) => (best === null || fit.totalCents < best.totalCents ? fit : best),
      null,
    );

function joined(blow: StockFit | null, draw: StockFit | null): TwoPlates | null {
  if (blow === null || draw === null) return null;
  return {
    blow,
    draw,
    totalCents: cents(blow.totalCents + draw.totalCents),
    largestCents: cents(Math.max(blow.largestCents, draw.largestCents)),
    worked: blow.worked + draw.worked,
    swapped: blow.swapped + draw.swapped,
  };
}
