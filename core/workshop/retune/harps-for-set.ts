import type { Harp } from "../../instrument/harp.ts";
import { cents } from "../../units.ts";
import type { RetuningLimits } from "./reed-work.ts";
import { fitOf, type StockChoice, type StockFit, stockToBuy } from "./stock-to-buy.ts";

/** Which of the two measures decides. */
export type Measure = "total" | "largest";
export const MEASURES: readonly Measure[] = ["total", "largest"];

/** More wanted harps than this are two sets. */
export const MOST_WANTED = 12;

/** What one of the wanted harps is made of. */
export interface HarpSource {
  readonly wanted: Harp;
  /** Place among the player's own harps; null for one that is bought. */
  readonly owned: number | null;
  readonly fit: StockFit;
}

/** A whole set of harps. */
export interface SetPlan {
  readonly by: Measure;
  readonly sources: readonly HarpSource[];
  /** Wanted harps that nothing could become. */
  readonly without: readonly Harp[];
  readonly totalCents: number;
  readonly largestCents: number;
}

/**
 * What a set of wanted harps is best made of. A harp the player has is used, once, where none of its reeds would be past the
 * limit: as many of them as can be, and of all such ways the one with the least total, or the least largest change and then
 * the least total. Every other harp is bought, by the same measure. Exact: all ways are weighed.
 *
 * @param wanted at most MOST_WANTED
 * @param owned  the player's own harps, measured or not
 * @param stock  harps that can be bought
 * @throws RangeError for more wanted harps than MOST_WANTED
 */
export function harpsForSet(
  wanted: readonly Harp[],
  owned: readonly Harp[],
  stock: readonly Harp[],
  limits: RetuningLimits,
  by: Measure,
): SetPlan {
  if (wanted.length > MOST_WANTED)
    throw new RangeError(`a set has at most ${MOST_WANTED} harps, not ${wanted.length}`);
  const table = owned.map((harp) => wanted.map((one) => usable(fitOf(harp, one, limits))));
  const given = assigned(table, wanted.length, by);
  const sources: HarpSource[] = [];
  const without: Harp[] = [];
  for (const [place, one] of wanted.entries()) {
    const own = given.indexOf(place);
    const fit = own >= 0 ? (table[own]?.[place] ?? null) : bestBy(stockToBuy(one, stock, limits), by);
    if (fit === null) without.push(one);
    else sources.push({ wanted: one, owned: own >= 0 ? own : null, fit });
  }
  return {
    by,
    sources,
    without,
    totalCents: cents(sources.reduce((sum, { fit }) => sum + fit.totalCents, 0)),
    largestCents: cents(Math.max(0, ...sources.map(({ fit }) => fit.largestCents))),
  };
}

const usable = (fit: StockFit | null) => (fit === null || fit.swapped > 0 ? null : fit);

/** The harp to buy by a measure: the trade-off lies between the two. */
const bestBy = ({ tradeOff }: StockChoice, by: Measure): StockFit | null =>
  (by === "total" ? tradeOff[0] : tradeOff.at(-1)) ?? null;

type FitTable = readonly (readonly (StockFit | null)[])[];

/** For each owned harp the place of the wanted one it becomes, or -1. */
function assigned(table: FitTable, count: number, by: Measure): readonly number[] {
  const all = mostThenLeast(table, count, Number.POSITIVE_INFINITY);
  if (by === "total") return all.given;
  // The least bound on the largest change under which as many harps find their place.
  const bounds = [...new Set(table.flat().flatMap((fit) => fit?.largestCents ?? []))].sort((a, b) => a - b);
  let [low, high] = [0, bounds.length - 1];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (mostThenLeast(table, count, bounds[middle] ?? 0).used === all.used) high = middle;
    else low = middle + 1;
  }
  return mostThenLeast(table, count, bounds[low] ?? 0).given;
}

/** Wanted harps served so far, as bits, and the best way to serve them. */
interface Way {
  readonly used: number;
  readonly total: number;
  readonly given: readonly number[];
}

/** Most owned harps used, then the least total, by taking the owned harps one after the other and keeping the best way for every set served. */
function mostThenLeast(table: FitTable, count: number, mostLargest: number): Way {
  let ways = new Map<number, Way>([[0, { used: 0, total: 0, given: [] }]]);
  for (const row of table) {
    const next = new Map<number, Way>();
    const offer = (served: number, way: Way) => {
      const known = next.get(served);
      if (known === undefined || way.total < known.total) next.set(served, way);
    };
    for (const [served, way] of ways) {
      offer(served, { ...way, given: [...way.given, -1] });
      for (let place = 0; place < count; place++) {
        const fit = row[place] ?? null;
        if (fit === null || fit.largestCents > mostLargest || (served & (1 << place)) !== 0) continue;
        offer(served | (1 << place), {
          used: way.used + 1,
          total: way.total + fit.totalCents,
          given: [...way.given, place],
        });
      }
    }
    ways = next;
  }
  const [first, ...rest] = [...ways.values()];
  return rest.reduce(
    (best, way) => (way.used > best.used || (way.used === best.used && way.total < best.total) ? way : best),
    first ?? { used: 0, total: 0, given: [] },
  );
}
