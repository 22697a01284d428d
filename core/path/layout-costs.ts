import type { Layout } from "../instrument/layout.ts";
import { type Abilities, type ReedAction, reachOf } from "../instrument/reed-actions.ts";
import { moveEffort, techniqueEffort, toneEffort } from "./cost.ts";
import type { LineSummary } from "./line-summary.ts";
import type { Weights } from "./weights.ts";

/** How many notes of a line sound plain, must be bent, must be overblown or overdrawn, or are missing. */
export interface NoteShares {
  readonly plain: number;
  readonly bent: number;
  readonly overblown: number;
  readonly missing: number;
}

/** What a line costs at least; the least itself where `exact`. */
export interface CostBound {
  readonly cost: number;
  readonly exact: boolean;
}

const [PLAIN, BENT, OVERBLOWN, MISSING] = [0, 1, 2, 3] as const;
const KIND = { plain: PLAIN, bend: BENT, overblow: OVERBLOWN, overdraw: OVERBLOWN } as const;

/** Efforts of the ways to go from one pitch to another: move and tone in turn. */
type Ways = readonly number[];
const NO_WAYS: Ways = [];

/** What every pitch and every move costs on one layout, worked out once for many lines. */
export class LayoutCosts {
  private readonly lowest: number;
  private readonly span: number;
  /** By pitch above the lowest: easiest kind, number of reed actions, least technique effort. */
  private readonly kinds: Uint8Array;
  private readonly numbers: Uint8Array;
  private readonly techniques: Float64Array;
  private readonly ways: (Ways | undefined)[] = [];
  private readonly actions: (readonly ReedAction[])[];

  constructor(
    layout: Layout,
    abilities: Abilities,
    private readonly weights: Weights,
  ) {
    const reach = reachOf(layout, abilities);
    const all = [...reach.keys()];
    this.lowest = all.length === 0 ? 0 : Math.min(...all);
    this.span = all.length === 0 ? 0 : Math.max(...all) - this.lowest + 1;
    this.actions = Array.from({ length: this.span }, (_, above) => reach.get(this.lowest + above) ?? []);
    this.kinds = Uint8Array.from(this.actions, (some) => easiestKind(some));
    this.numbers = Uint8Array.from(this.actions, (some) => some.length);
    this.techniques = Float64Array.from(this.actions, (some) =>
      some.length === 0 ? 0 : Math.min(...some.map((action) => techniqueEffort(action, weights))),
    );
  }

  /** @param keyNote MIDI number the layout's semitones count from, as if the line were moved instead */
  shares({ pitches, counts }: LineSummary, keyNote: number): NoteShares {
    const down = keyNote + this.lowest;
    const found = [0, 0, 0, 0];
    for (let place = 0; place < pitches.length; place++) {
      const kind = this.kinds[(pitches[place] ?? 0) - down] ?? MISSING;
      found[kind] = (found[kind] ?? 0) + (counts[place] ?? 0);
    }
    const [plain = 0, bent = 0, overblown = 0, missing = 0] = found;
    return { plain, bent, overblown, missing };
  }

  /**
   * Sum of the least that each note and each move costs by itself. That is what the line costs where every pitch has one
   * reed action and none is missing; else the line costs at least that much.
   */
  bound(line: LineSummary, keyNote: number): CostBound {
    const down = keyNote + this.lowest;
    const { pitches, hurries } = line;
    let cost = 0;
    let exact = true;
    for (let place = 0; place < pitches.length; place++) {
      const above = (pitches[place] ?? 0) - down;
      exact &&= this.numbers[above] === 1;
      cost += (this.techniques[above] ?? 0) * (hurries[place] ?? 0);
    }
    const { from, to, hurry, joined } = line.steps;
    for (let step = 0; step < from.length; step++) {
      const ways = this.waysOf((from[step] ?? 0) - down, (to[step] ?? 0) - down);
      cost += leastOf(ways, hurry[step] ?? 0, joined[step] ?? 0);
    }
    return { cost, exact };
  }

  private waysOf(from: number, to: number): Ways {
    if (from < 0 || to < 0 || from >= this.span || to >= this.span) return NO_WAYS;
    const key = from * this.span + to;
    const known = this.ways[key];
    if (known !== undefined) return known;
    const ways = (this.actions[from] ?? []).flatMap((one) =>
      (this.actions[to] ?? []).flatMap((other) => [
        moveEffort(one, other, this.weights),
        toneEffort(one, other, this.weights),
      ]),
    );
    this.ways[key] = ways;
    return ways;
  }
}

/** Of moves from a pitch to another the cheapest; nothing where there is none. */
function leastOf(ways: Ways, hurry: number, joined: number): number {
  if (ways.length === 0) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (let way = 0; way < ways.length; way += 2) {
    const cost = (ways[way] ?? 0) * hurry + (ways[way + 1] ?? 0) * joined;
    if (cost < least) least = cost;
  }
  return least;
}

function easiestKind(actions: readonly ReedAction[]): number {
  return actions.reduce<number>((easiest, action) => Math.min(easiest, KIND[action.technique]), MISSING);
}
