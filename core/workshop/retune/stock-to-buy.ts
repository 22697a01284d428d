import { type Harp, registerOf } from "../../instrument/harp.ts";
import { type Cents, cents } from "../../units.ts";
import { compareHarps, type ReedChange } from "./reed-change.ts";
import { isPastLimit, isWithin, type RetuningLimits } from "./reed-work.ts";

/** What it takes to make the wanted harp of one that can be bought. */
export interface StockFit {
  readonly harp: Harp;
  /** Sum of all changes without sign. */
  readonly totalCents: Cents;
  readonly largestCents: Cents;
  /** Reeds that need work. */
  readonly worked: number;
  /** Reeds past the limit. */
  readonly swapped: number;
}

/** Every harp that was tried, and the best of them by either measure. */
export interface StockChoice {
  readonly wanted: Harp;
  /** Harps that could become it. */
  readonly tried: number;
  /** Harps that could not, for their holes or reeds. */
  readonly unfit: number;
  /**
   * What no other harp beats in both measures: the least total first, the least largest change last. Of harps equal in
   * both the first by `compareFits`.
   */
  readonly tradeOff: readonly StockFit[];
  /** The best of each layout by total, in the same order. */
  readonly byLayout: readonly StockFit[];
}

/**
 * Which harp to buy so that the sum of changes and the largest change are least: all of them are tried.
 *
 * @param stock harps that can be bought, those most easily had first
 * @returns no trade-off where none of them could become it
 */
export function stockToBuy(wanted: Harp, stock: readonly Harp[], limits: RetuningLimits): StockChoice {
  const fits = stock.flatMap((harp) => fitOf(harp, wanted, limits) ?? []);
  const places = new Map(stock.map((harp, place) => [harp, place]));
  const inOrder = [...fits].sort(
    (one, other) => compareFits(one, other) || (places.get(one.harp) ?? 0) - (places.get(other.harp) ?? 0),
  );
  return {
    wanted,
    tried: fits.length,
    unfit: stock.length - fits.length,
    tradeOff: unbeaten(inOrder),
    byLayout: inOrder.filter(
      (fit, place) => inOrder.findIndex((one) => one.harp.layout === fit.harp.layout) === place,
    ),
  };
}

/** What it takes to make one harp of another; null where it cannot be. */
export const fitOf = (harp: Harp, wanted: Harp, limits: RetuningLimits): StockFit | null =>
  fitOfReeds(harp, wanted, limits, () => true);

/** As `fitOf`, for some of the reeds. */
export function fitOfReeds(
  harp: Harp,
  wanted: Harp,
  limits: RetuningLimits,
  counts: (reed: ReedChange) => boolean,
): StockFit | null {
  const compared = compareHarps(harp, wanted);
  if (compared.kind === "not possible") return null;
  const changes = compared.change.reeds.filter(counts).map(({ changeCents }) => changeCents);
  const sizes = changes.map(Math.abs);
  return {
    harp,
    totalCents: rounded(sizes.reduce((sum, size) => sum + size, 0)),
    largestCents: rounded(Math.max(0, ...sizes)),
    worked: changes.filter((change) => !isWithin(change, limits.toleranceCents)).length,
    swapped: changes.filter((change) => isPastLimit(change, limits)).length,
  };
}

/** To a millionth: sums of logarithms that are equal on paper are then equal here. */
const rounded = (value: number) => cents(Math.round(value * 1e6) / 1e6);

/**
 * The plain rule for which of two harps is better: less in total, then the smaller largest change, then fewer reeds to
 * swap, fewer to work on, and one of the usual register.
 */
export function compareFits(one: StockFit, other: StockFit): number {
  return (
    one.totalCents - other.totalCents ||
    one.largestCents - other.largestCents ||
    one.swapped - other.swapped ||
    one.worked - other.worked ||
    unusual(one) - unusual(other)
  );
}

const unusual = ({ harp }: StockFit) => (registerOf(harp) === "usual" ? 0 : 1);

/** @param inOrder by total */
function unbeaten(inOrder: readonly StockFit[]): readonly StockFit[] {
  let least = Number.POSITIVE_INFINITY;
  return inOrder.filter(({ largestCents }) => {
    if (largestCents >= least) return false;
    least = largestCents;
    return true;
  });
}
