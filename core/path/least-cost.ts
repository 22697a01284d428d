import { type Elimination, eliminationOf } from "./elimination.ts";

/** Choices to be made together: what each value costs by itself, and beside each value of a neighbour. */
export interface Choices {
  /** For each choice the cost of each of its values; at least one. All finite. */
  readonly alone: readonly Float64Array[];
  /** For two different choices, cost by value of the first times number of values of the second plus value of the second. */
  readonly pairs: readonly ChoicePair[];
}

export interface ChoicePair {
  readonly first: number;
  readonly second: number;
  readonly costs: Float64Array;
}

/** The cheapest values together, and the cost of each value at the best of all others. */
export interface LeastCost {
  readonly values: readonly number[];
  readonly cost: number;
}

/** Most entries all tables of costs may have together: 32 MB. */
export const MOST_ENTRIES = 4_194_304;

/**
 * Cheapest values of choices that hang together in any way, by eliminating one after the other.
 *
 * A choice is taken out by noting, for each combination of its neighbours' values, the least that it can add; its
 * neighbours then hang together through this table. Exact for any graph; the work grows with the largest table, which for
 * notes in a row has two choices, for repeats and endings a few. (Bertele and Brioschi, Nonserial Dynamic Programming, 1972;
 * Dechter, Bucket elimination, Artificial Intelligence 113, 1999.)
 */
export class LeastCostSolver {
  private readonly tables: Float64Array[] = [];
  private readonly upward: Float64Array[] = [];
  private total = 0;

  private constructor(
    private readonly choices: Choices,
    private readonly plan: Elimination,
  ) {
    this.eliminate();
  }

  /** Null if the tables would have more than `MOST_ENTRIES` entries. */
  static of(choices: Choices): LeastCostSolver | null {
    const sizes = choices.alone.map((costs) => costs.length);
    const plan = eliminationOf(sizes, choices.pairs);
    return plan.entries > MOST_ENTRIES ? null : new LeastCostSolver(choices, plan);
  }

  /** Of equally cheap values the first. */
  least(): LeastCost {
    const values = new Array<number>(this.choices.alone.length).fill(0);
    for (const choice of [...this.plan.order].reverse()) {
      const table = this.table(choice);
      const size = this.size(choice);
      let row = 0;
      for (const other of this.others(choice)) row = row * this.size(other) + (values[other] ?? 0);
      let best = 0;
      for (let value = 1; value < size; value++)
        if (at(table, row * size + value) < at(table, row * size + best) - TIE) best = value;
      values[choice] = best;
    }
    return { values, cost: this.total };
  }

  /** For each choice and value the least total cost with that value: once forward, once backward. */
  leastWithEach(): readonly Float64Array[] {
    const downward: Float64Array[] = [];
    const result = this.choices.alone.map((costs) =>
      new Float64Array(costs.length).fill(Number.POSITIVE_INFINITY),
    );
    for (const choice of [...this.plan.order].reverse()) {
      const belief = this.beliefOf(choice, downward);
      const least = result[choice] ?? new Float64Array();
      const size = this.size(choice);
      for (let index = 0; index < belief.length; index++)
        least[index % size] = Math.min(at(least, index % size), at(belief, index));
      for (const child of this.plan.children[choice] ?? [])
        downward[child] = this.messageTo(child, choice, belief);
    }
    return result;
  }

  private eliminate(): void {
    for (const choice of this.plan.order) {
      const scope = [...this.others(choice), choice];
      const table = new Float64Array(scope.reduce((product, one) => product * this.size(one), 1));
      this.add(table, scope, this.choices.alone[choice] ?? new Float64Array(1), [choice]);
      for (const place of this.plan.pairsAt[choice] ?? []) {
        const pair = this.choices.pairs[place];
        if (pair !== undefined) this.add(table, scope, pair.costs, [pair.first, pair.second]);
      }
      for (const child of this.plan.children[choice] ?? [])
        this.add(table, scope, this.upward[child] ?? new Float64Array(1), this.others(child));
      this.tables[choice] = table;
      this.upward[choice] = rowMinima(table, this.size(choice));
      if (scope.length === 1) this.total += at(this.upward[choice] ?? table, 0);
    }
  }

  /** The table of a choice with what all the rest costs added: every entry is a least total cost. */
  private beliefOf(choice: number, downward: readonly Float64Array[]): Float64Array {
    const belief = Float64Array.from(this.table(choice));
    const size = this.size(choice);
    const rest = downward[choice];
    const apart = this.total - at(this.upward[choice] ?? belief, 0);
    for (let index = 0; index < belief.length; index++)
      belief[index] = at(belief, index) + (rest === undefined ? apart : at(rest, Math.floor(index / size)));
    return belief;
  }

  /** What everything but a child's own branch costs, by the values the child hangs on. */
  private messageTo(child: number, parent: number, belief: Float64Array): Float64Array {
    const up = this.upward[child] ?? new Float64Array(1);
    const message = new Float64Array(up.length).fill(Number.POSITIVE_INFINITY);
    this.visit([...this.others(parent), parent], this.others(child), (whole, part) => {
      message[part] = Math.min(at(message, part), at(belief, whole));
    });
    for (let index = 0; index < message.length; index++) message[index] = at(message, index) - at(up, index);
    return message;
  }

  private add(
    table: Float64Array,
    scope: readonly number[],
    costs: Float64Array,
    of: readonly number[],
  ): void {
    this.visit(scope, of, (whole, part) => {
      table[whole] = at(table, whole) + at(costs, part);
    });
  }

  /** Every combination of values of a scope, as an index into its table and into that of some of it. */
  private visit(
    scope: readonly number[],
    some: readonly number[],
    seen: (whole: number, part: number) => void,
  ): void {
    const sizes = scope.map((choice) => this.size(choice));
    const strides = scope.map((choice) => {
      const place = some.indexOf(choice);
      return place < 0 ? 0 : some.slice(place + 1).reduce((product, one) => product * this.size(one), 1);
    });
    const values = new Array<number>(scope.length).fill(0);
    const all = sizes.reduce((product, size) => product * size, 1);
    let part = 0;
    for (let whole = 0; whole < all; whole++) {
      seen(whole, part);
      for (let axis = scope.length - 1; axis >= 0; axis--) {
        const next = (values[axis] ?? 0) + 1;
        const stride = strides[axis] ?? 0;
        if (next < (sizes[axis] ?? 1)) {
          values[axis] = next;
          part += stride;
          break;
        }
        values[axis] = 0;
        part -= stride * (next - 1);
      }
    }
  }

  private size(choice: number): number {
    return this.choices.alone[choice]?.length ?? 1;
  }

  private others(choice: number): readonly number[] {
    return this.plan.others[choice] ?? [];
  }

  private table(choice: number): Float64Array {
    return this.tables[choice] ?? new Float64Array(1);
  }
}

/** Sums in different order differ by rounding; what differs by less is a tie. */
const TIE = 1e-9;

const at = (table: Float64Array, index: number): number => table[index] ?? 0;

function rowMinima(table: Float64Array, size: number): Float64Array {
  const minima = new Float64Array(table.length / size).fill(Number.POSITIVE_INFINITY);
  for (let index = 0; index < table.length; index++) {
    const row = Math.floor(index / size);
    minima[row] = Math.min(at(minima, row), at(table, index));
  }
  return minima;
}
