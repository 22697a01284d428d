import { type AirProblem, totalCost } from "./air-problem.ts";
import { type Untied, untiedLeast } from "./air-search.ts";

/** The cheapest way found to play a line whose like notes are played alike. */
export interface Tied {
  /** By choice. */
  readonly values: readonly number[];
  readonly cost: number;
  /** Whether no way is cheaper; false where the search was given up before it knew. */
  readonly proved: boolean;
}

/** Steps of note, reed action and air the search may take in all: some seconds in a worker. */
const MOST_STEPS = 60_000_000;
/** Ways may be tried note by note so often while one choice after the other is changed. */
const MOST_NOTES_TRIED = 4_000_000;
/** Sums in different order differ by rounding. */
const SAME = 1e-9;

interface Branch {
  readonly allowed: readonly (readonly number[])[];
  readonly untied: Untied;
}

/**
 * Branch and bound: what is cheapest if every note is chosen by itself is a bound; where it plays like notes unlike, one such
 * choice is settled each way in turn, the lowest bound first.
 *
 * @param starts    ways to begin from, each with a value for every choice; at least one
 * @param mostSteps steps of note, reed action and air after which it is given up
 */
export function tiedLeast(
  problem: AirProblem,
  starts: readonly (readonly number[])[],
  mostSteps = MOST_STEPS,
): Tied {
  const best = new Best(problem);
  for (const start of starts) best.tryFrom(start);
  const branches: Branch[] = [{ allowed: problem.free, untied: untiedLeast(problem, problem.free) }];
  let left = mostSteps;
  for (;;) {
    const branch = takeLowest(branches);
    if (branch === null || branch.untied.cost >= best.cost - SAME) return best.found(true);
    const shares = sharesOf(problem, branch.untied.values);
    best.tryFrom(problem.free.map((values, choice) => commonest(shares[choice], values[0] ?? 0)));
    const divided = mostDivided(shares);
    if (divided === null || branch.untied.cost >= best.cost - SAME) continue;
    for (const value of branch.allowed[divided] ?? []) {
      if (left <= 0) return best.found(false);
      const allowed = branch.allowed.map((values, choice) => (choice === divided ? [value] : values));
      left -= stepsOf(problem, allowed);
      branches.push({ allowed, untied: untiedLeast(problem, allowed) });
    }
  }
}

/** The best way so far; whatever is tried is first made better by changing one choice at a time. */
class Best {
  private values: readonly number[] = [];
  private left = MOST_NOTES_TRIED;
  cost = Number.POSITIVE_INFINITY;

  constructor(private readonly problem: AirProblem) {}

  tryFrom(start: readonly number[]): void {
    const values = [...start];
    let cost = totalCost(this.problem, values);
    for (let better = true; better && this.left > 0; ) {
      const reached = this.changeEach(values, cost);
      better = reached < cost - SAME;
      cost = reached;
    }
    if (cost < this.cost - SAME) [this.values, this.cost] = [values, cost];
  }

  found(proved: boolean): Tied {
    return { values: this.values, cost: this.cost, proved };
  }

  private changeEach(values: number[], reached: number): number {
    let least = reached;
    for (const [choice, able] of this.problem.free.entries()) {
      for (const value of able) {
        const kept = values[choice] ?? 0;
        if (value === kept || this.left <= 0) continue;
        values[choice] = value;
        this.left -= this.problem.places.length;
        const cost = totalCost(this.problem, values);
        if (cost < least - SAME) least = cost;
        else values[choice] = kept;
      }
    }
    return least;
  }
}

function takeLowest(branches: Branch[]): Branch | null {
  let lowest = 0;
  for (const [place, { untied }] of branches.entries())
    if (untied.cost < (branches[lowest]?.untied.cost ?? 0)) lowest = place;
  return branches.splice(lowest, 1)[0] ?? null;
}

/** By choice: how many seconds each value is played. */
function sharesOf(
  { places }: AirProblem,
  values: Int32Array,
): readonly (ReadonlyMap<number, number> | undefined)[] {
  const shares: Map<number, number>[] = [];
  for (const [index, { choice, lengthSeconds }] of places.entries()) {
    const its = shares[choice] ?? new Map<number, number>();
    const value = values[index] ?? 0;
    its.set(value, (its.get(value) ?? 0) + lengthSeconds);
    shares[choice] = its;
  }
  return shares;
}

function commonest(shares: ReadonlyMap<number, number> | undefined, otherwise: number): number {
  let [value, most] = [otherwise, -1];
  for (const [one, share] of shares ?? []) if (share > most) [value, most] = [one, share];
  return value;
}

/** The choice of which most is played another way than its commonest; null where all is played alike. */
function mostDivided(shares: readonly (ReadonlyMap<number, number> | undefined)[]): number | null {
  let [divided, most]: [number | null, number] = [null, -1];
  for (const [choice, its] of shares.entries()) {
    if (its === undefined || its.size < 2) continue;
    const all = [...its.values()];
    const apart = all.reduce((sum, one) => sum + one, 0) - Math.max(...all);
    if (apart > most) [divided, most] = [choice, apart];
  }
  return divided;
}

/** Steps `untiedLeast` takes at most. */
function stepsOf({ places }: AirProblem, allowed: readonly (readonly number[])[]): number {
  let [steps, width, before] = [0, 1, 1];
  for (const { choice, length } of places) {
    const count = allowed[choice]?.length ?? 1;
    steps += before * count * width;
    width += 2 * length;
    before = count;
  }
  return steps;
}
