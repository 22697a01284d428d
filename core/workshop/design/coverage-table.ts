import type { Progress } from "../../path/long-work.ts";
import { carriedOver, type HoleStep, isDone } from "./coverage-frontier.ts";

/** Most sets of covered notes kept over all borders, and steps from set to set tried. */
export const MOST_SETS = 150_000;
export const MOST_SET_STEPS = 12_000_000;

/** By what is covered before a hole: for 0, 1, 2 ... changed reeds from there on. */
interface Rest {
  /** Least semitones moved; infinite where it cannot be done with exactly so many. */
  readonly moved: Float64Array;
  /** Ways to do it, moved however far. */
  readonly ways: Float64Array;
  /** Fewest and most changes it can be done with. */
  first: number;
  last: number;
}

/**
 * For every set of notes covered before a hole: how many reeds the holes from there on must change at least to cover the rest,
 * and how far, exactly. Dynamic programming over the holes; where holes have nothing to obey but limits of each reed it solves
 * the assignment of notes to reeds (Kuhn, Naval Research Logistics Quarterly 2, 1955), and orders, bends and chords of a hole
 * besides.
 */
export class CoverageTable {
  private constructor(private readonly rests: readonly ReadonlyMap<number, Rest>[]) {}

  /**
   * @param mostChanged more changes than this are not looked at
   * @returns null where the sets would be too many, see `MOST_SETS`
   */
  static *of(steps: readonly HoleStep[], mostChanged: number): Generator<Progress, CoverageTable | null> {
    const layers = yield* reachable(steps);
    if (layers === null) return null;
    const rests: Map<number, Rest>[] = layers.map(() => new Map());
    const end = emptyRest(mostChanged);
    end.moved[0] = 0;
    end.ways[0] = 1;
    end.first = 0;
    end.last = 0;
    rests[steps.length]?.set(0, end);
    for (let hole = steps.length - 1; hole >= 0; hole--) {
      const step = steps[hole];
      const after = rests[hole + 1];
      if (step === undefined || after === undefined) continue;
      const tries = triesOf(step);
      for (const covered of layers[hole] ?? []) {
        const rest = restOf(step, tries, covered, after, mostChanged);
        if (rest !== null) rests[hole]?.set(covered, rest);
      }
      yield { done: 2 * steps.length - hole, of: 2 * steps.length };
    }
    return new CoverageTable(rests);
  }

  /** Least semitones the holes from `hole` (counted from 0) on move with exactly `changed` changes; infinite where it cannot be. */
  leastMoved(hole: number, covered: number, changed: number): number {
    return this.rests[hole]?.get(covered)?.moved[changed] ?? Number.POSITIVE_INFINITY;
  }

  /** How many layouts there are with exactly so many changed reeds. */
  ways(changed: number): number {
    return this.rests[0]?.get(0)?.ways[changed] ?? 0;
  }
}

const emptyRest = (mostChanged: number): Rest => ({
  moved: new Float64Array(mostChanged + 1).fill(Number.POSITIVE_INFINITY),
  ways: new Float64Array(mostChanged + 1),
  first: Number.POSITIVE_INFINITY,
  last: -1,
});

function* reachable(steps: readonly HoleStep[]): Generator<Progress, readonly ReadonlySet<number>[] | null> {
  const layers: Set<number>[] = [new Set([0])];
  let sets = 1;
  let tried = 0;
  for (const [hole, step] of steps.entries()) {
    const next = new Set<number>();
    for (const covered of layers[hole] ?? []) {
      const carried = carriedOver(step, covered);
      for (const group of step.groups) if (isDone(step, covered, group)) next.add(carried | group.adds);
      tried += step.groups.length;
      if (tried > MOST_SET_STEPS || sets + next.size > MOST_SETS) return null;
    }
    sets += next.size;
    layers.push(next);
    yield { done: hole, of: 2 * steps.length };
  }
  return layers;
}

/** A group of choices with what matters of them here: by number of changes the least moved, and how many there are. */
interface Try {
  readonly group: HoleStep["groups"][number];
  readonly moved: readonly number[];
  readonly ways: readonly number[];
}

function triesOf({ choices, groups }: HoleStep): readonly Try[] {
  return groups.map((group) => {
    const moved = [0, 1, 2].map((changed) =>
      Math.min(
        ...group.choices.flatMap((place) => {
          const choice = choices[place];
          return choice?.changed === changed ? [choice.moved] : [];
        }),
      ),
    );
    const ways = [0, 1, 2].map(
      (changed) => group.choices.filter((place) => choices[place]?.changed === changed).length,
    );
    return { group, moved, ways };
  });
}

function restOf(
  step: HoleStep,
  tries: readonly Try[],
  covered: number,
  after: ReadonlyMap<number, Rest>,
  mostChanged: number,
): Rest | null {
  const rest = emptyRest(mostChanged);
  let isPossible = false;
  const carried = carriedOver(step, covered);
  for (const { group, moved, ways } of tries) {
    const then = isDone(step, covered, group) ? after.get(carried | group.adds) : undefined;
    if (then === undefined) continue;
    for (let own = 0; own < ways.length; own++) {
      const times = ways[own] ?? 0;
      if (times === 0) continue;
      isPossible = addTo(rest, then, own, moved[own] ?? 0, times, mostChanged) || isPossible;
    }
  }
  return isPossible ? rest : null;
}

/** Adds a way of a hole before the rest of the holes. @returns whether anything was added */
function addTo(
  rest: Rest,
  then: Rest,
  own: number,
  movedHere: number,
  times: number,
  mostChanged: number,
): boolean {
  const last = Math.min(mostChanged - own, then.last);
  for (let later = then.first; later <= last; later++) {
    const moved = (then.moved[later] ?? 0) + movedHere;
    const changed = later + own;
    if (moved < (rest.moved[changed] ?? 0)) rest.moved[changed] = moved;
    rest.ways[changed] = (rest.ways[changed] ?? 0) + times * (then.ways[later] ?? 0);
  }
  if (then.first > last) return false;
  rest.first = Math.min(rest.first, then.first + own);
  rest.last = Math.max(rest.last, last + own);
  return true;
}
