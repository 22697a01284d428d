import { addBit, areApart, type Bits, hasBit, inBoth, isWithin, noBits, numbersIn, without } from "./bits.ts";
import { MOST_TRIES, type Progress, TRIES_A_STEP } from "./long-work.ts";

/** Fewest sets that together hold everything any of them holds. */
export interface Cover {
  /** Places of the sets, ascending. */
  readonly chosen: readonly number[];
  /** False where the search was given up: then fewer sets might do, but not fewer than `atLeast`. */
  readonly proved: boolean;
  readonly atLeast: number;
}

/**
 * Minimum set cover by branch and bound: reduced first (sets and elements that others make needless, sets without which
 * something stays uncovered), then branching on the element fewest sets hold; the bound is the number of elements no two of
 * which share a set. (Rules as in Balas and Ho, Mathematical Programming Study 12, 1980; Beasley, EJOR 31, 1987.)
 *
 * @param sets all of the same length
 */
export function* smallestCover(
  sets: readonly Bits[],
  mostTries: number = MOST_TRIES,
): Generator<Progress, Cover> {
  const problem = reduced(sets);
  const search = new CoverSearch(problem, mostTries);
  const atLeast = problem.forced.length + search.bound(problem.elements);
  for (const _ of search.run()) yield { done: search.tries, of: mostTries };
  const chosen = [...problem.forced, ...search.best].sort((one, other) => one - other);
  return { chosen, proved: search.finished, atLeast: search.finished ? chosen.length : atLeast };
}

/** What is left to choose: elements by which sets hold them. */
interface CoverProblem {
  /** Sets that are in every cover of what is left. */
  readonly forced: readonly number[];
  /** For each element left, the sets left that hold it. */
  readonly elements: readonly Bits[];
}

function reduced(sets: readonly Bits[]): CoverProblem {
  const forced = new Set<number>();
  let elements = elementsOf(sets);
  for (let before = Number.POSITIVE_INFINITY; elements.length > 0; ) {
    elements = withoutNeedlessSets(withoutNeedlessElements(elements), sets.length);
    const alone = elements.flatMap((holders) => {
      const numbers = numbersIn(holders);
      return numbers.length === 1 ? numbers : [];
    });
    for (const set of alone) forced.add(set);
    elements = elements.filter((holders) => !alone.some((set) => hasBit(holders, set)));
    const size = elements.reduce((sum, holders) => sum + numbersIn(holders).length, 0);
    if (size === before && alone.length === 0) break;
    before = size;
  }
  return { forced: [...forced], elements };
}

/** For each element in any set, the sets that hold it. */
function elementsOf(sets: readonly Bits[]): readonly Bits[] {
  const holders = new Map<number, Bits>();
  for (const [number, set] of sets.entries()) {
    for (const element of numbersIn(set)) {
      const its = holders.get(element) ?? noBits(sets.length);
      addBit(its, number);
      holders.set(element, its);
    }
  }
  return [...holders.values()];
}

/** An element is covered anyway if every set that holds some other element holds it too. */
function withoutNeedlessElements(elements: readonly Bits[]): readonly Bits[] {
  const fewestFirst = elements
    .map((holders) => ({ holders, count: numbersIn(holders).length }))
    .sort((one, other) => one.count - other.count);
  const kept: Bits[] = [];
  for (const { holders } of fewestFirst)
    if (!kept.some((other) => isWithin(other, holders))) kept.push(holders);
  return kept;
}

/** A set need not be chosen if another holds everything it holds; of equal sets the first stays. */
function withoutNeedlessSets(elements: readonly Bits[], count: number): readonly Bits[] {
  const holds = Array.from({ length: count }, () => noBits(elements.length));
  for (const [place, holders] of elements.entries())
    for (const set of numbersIn(holders)) addBit(holds[set] ?? noBits(0), place);
  const sizes = holds.map((bits) => numbersIn(bits).length);
  const largestFirst = [...holds.keys()].sort(
    (one, other) => (sizes[other] ?? 0) - (sizes[one] ?? 0) || one - other,
  );
  const kept: number[] = [];
  for (const set of largestFirst) {
    const its = holds[set] ?? noBits(0);
    if (sizes[set] !== 0 && !kept.some((other) => isWithin(its, holds[other] ?? noBits(0)))) kept.push(set);
  }
  const keptBits = noBits(count);
  for (const set of kept) addBit(keptBits, set);
  return elements.map((holders) => inBoth(holders, keptBits));
}

class CoverSearch {
  best: readonly number[];
  tries = 0;
  finished = true;

  constructor(
    private readonly problem: CoverProblem,
    private readonly mostTries: number,
  ) {
    this.best = greedyCover(problem.elements);
  }

  *run(): Generator<void> {
    yield* this.branch(this.problem.elements, []);
  }

  /** Elements no two of which share a set each need a set of their own. */
  bound(elements: readonly Bits[]): number {
    const apart: Bits[] = [];
    const fewestFirst = elements
      .map((holders) => ({ holders, count: numbersIn(holders).length }))
      .sort((one, other) => one.count - other.count);
    for (const { holders } of fewestFirst)
      if (apart.every((other) => areApart(other, holders))) apart.push(holders);
    return apart.length;
  }

  private *branch(elements: readonly Bits[], chosen: readonly number[]): Generator<void> {
    if (elements.length === 0) {
      if (chosen.length < this.best.length) this.best = chosen;
      return;
    }
    if (this.tries >= this.mostTries) {
      this.finished = false;
      return;
    }
    this.tries++;
    if (this.tries % TRIES_A_STEP === 0) yield;
    if (chosen.length + this.bound(elements) >= this.best.length) return;
    let left = elements;
    for (const set of this.waysToCover(elements)) {
      const uncovered = left.filter((holders) => !hasBit(holders, set));
      yield* this.branch(uncovered, [...chosen, set]);
      // Every cover with this set has been looked at.
      left = withoutSet(left, set);
      if (left.some((holders) => holders.every((word) => word === 0))) return;
    }
  }

  /** The sets that hold the element fewest sets hold, those that hold most first. */
  private waysToCover(elements: readonly Bits[]): readonly number[] {
    const ways = elements
      .map((holders) => numbersIn(holders))
      .reduce((fewest, some) => (some.length < fewest.length ? some : fewest));
    const holds = (set: number) => elements.filter((holders) => hasBit(holders, set)).length;
    return ways
      .map((set) => ({ set, holds: holds(set) }))
      .sort((one, other) => other.holds - one.holds)
      .map((way) => way.set);
  }
}

function withoutSet(elements: readonly Bits[], set: number): readonly Bits[] {
  return elements.map((holders) => {
    if (!hasBit(holders, set)) return holders;
    const one = noBits(32 * holders.length);
    addBit(one, set);
    return without(holders, one);
  });
}

/** Always the set that holds most of what is left. */
function greedyCover(elements: readonly Bits[]): readonly number[] {
  const chosen: number[] = [];
  let left = elements;
  while (left.length > 0) {
    const counts = new Map<number, number>();
    for (const holders of left)
      for (const set of numbersIn(holders)) counts.set(set, (counts.get(set) ?? 0) + 1);
    const most = Math.max(...counts.values());
    const set = [...counts].find(([, count]) => count === most)?.[0];
    if (set === undefined) break;
    chosen.push(set);
    left = left.filter((holders) => !hasBit(holders, set));
  }
  return chosen;
}
