/** In which order choices are taken out, and which hang on which when that happens. */
export interface Elimination {
  readonly order: readonly number[];
  /** By choice: what it hangs on when it is taken out, the next to be taken out first. */
  readonly others: readonly (readonly number[])[];
  /** By choice: which earlier ones leave their table to it. */
  readonly children: readonly (readonly number[])[];
  /** By choice: places of the pairs that are counted when it is taken out. */
  readonly pairsAt: readonly (readonly number[])[];
  /** Entries of all tables together. */
  readonly entries: number;
}

interface Link {
  readonly first: number;
  readonly second: number;
}

/**
 * An order by least neighbours: for notes in a row each has at most two, so every table stays small. The order decides only
 * how much work there is, never the result.
 *
 * @param sizes number of values of each choice, >= 1
 */
export function eliminationOf(sizes: readonly number[], pairs: readonly Link[]): Elimination {
  const order: number[] = [];
  const others: (readonly number[])[] = [];
  const graph = neighboursOf(sizes.length, pairs);
  const waiting = new ByDegree(graph);
  let entries = 0;
  for (let choice = waiting.take(); choice !== null; choice = waiting.take()) {
    const near = [...(graph[choice] ?? [])];
    order.push(choice);
    others[choice] = near;
    entries += near.reduce((product, one) => product * (sizes[one] ?? 1), sizes[choice] ?? 1);
    for (const one of near) {
      const its = graph[one] ?? new Set<number>();
      its.delete(choice);
      for (const other of near) if (other !== one) its.add(other);
      waiting.moved(one);
    }
  }
  return { order, ...hangingTogether(order, others, pairs), entries };
}

function neighboursOf(count: number, pairs: readonly Link[]): readonly Set<number>[] {
  const graph = Array.from({ length: count }, () => new Set<number>());
  for (const { first, second } of pairs) {
    graph[first]?.add(second);
    graph[second]?.add(first);
  }
  return graph;
}

function hangingTogether(
  order: readonly number[],
  near: readonly (readonly number[])[],
  pairs: readonly Link[],
) {
  const turn: number[] = [];
  for (const [place, choice] of order.entries()) turn[choice] = place;
  const turnOf = (choice: number) => turn[choice] ?? 0;
  const others = near.map((some) => [...some].sort((one, other) => turnOf(one) - turnOf(other)));
  const children: number[][] = others.map(() => []);
  for (const choice of order) children[others[choice]?.[0] ?? -1]?.push(choice);
  const pairsAt: number[][] = others.map(() => []);
  for (const [place, { first, second }] of pairs.entries())
    pairsAt[turnOf(first) < turnOf(second) ? first : second]?.push(place);
  return { others, children, pairsAt };
}

/** Choices by number of neighbours, kept up to date while they are taken out. */
class ByDegree {
  private readonly rows: Set<number>[] = [];
  private readonly degrees: number[] = [];

  constructor(private readonly graph: readonly ReadonlySet<number>[]) {
    for (const choice of graph.keys()) this.put(choice);
  }

  /** The one with the fewest, or null when none is left. */
  take(): number | null {
    for (const row of this.rows) {
      for (const choice of row ?? []) {
        row.delete(choice);
        return choice;
      }
    }
    return null;
  }

  moved(choice: number): void {
    this.rows[this.degrees[choice] ?? 0]?.delete(choice);
    this.put(choice);
  }

  private put(choice: number): void {
    const degree = this.graph[choice]?.size ?? 0;
    for (let missing = this.rows.length; missing <= degree; missing++) this.rows.push(new Set());
    this.rows[degree]?.add(choice);
    this.degrees[choice] = degree;
  }
}
