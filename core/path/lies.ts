import type { Harp } from "../instrument/harp.ts";
import type { Layout } from "../instrument/layout.ts";
import type { Abilities } from "../instrument/reed-actions.ts";
import { LayoutCosts } from "./layout-costs.ts";
import type { Weights } from "./weights.ts";

/** Written pitch, an octave down, an octave up. */
export const OCTAVE_SHIFTS: readonly number[] = [0, -12, 12];

/** A harp with a shift, and the number of the way a tune lies on it. */
export interface Place {
  readonly harp: Harp;
  readonly shift: number;
  readonly lie: number;
}

/** One way a tune can lie on a layout: the key note as if the tune were not moved. Several places may share it. */
export interface Lie {
  readonly costs: LayoutCosts;
  readonly keyNote: number;
  /** The first place that has it. */
  readonly first: number;
}

/** Numbers the ways tunes can lie on harps, so that each is worked out once. */
export class LiesOf {
  readonly all: Lie[] = [];
  private readonly costs = new Map<Layout, LayoutCosts>();
  private readonly numbers = new Map<LayoutCosts, Map<number, number>>();
  private places = 0;

  constructor(
    private readonly abilities: Abilities,
    private readonly weights: Weights,
  ) {}

  /** Number of the lie of a harp and shift; to be asked once for every place, in order. */
  of(harp: Harp, shift: number): number {
    const costs = this.costsOf(harp.layout);
    const keyNote = harp.keyNote - shift;
    const numbers = this.numbers.get(costs) ?? new Map<number, number>();
    const number = numbers.get(keyNote) ?? this.all.length;
    if (number === this.all.length) this.all.push({ costs, keyNote, first: this.places });
    this.numbers.set(costs, numbers.set(keyNote, number));
    this.places++;
    return number;
  }

  private costsOf(layout: Layout): LayoutCosts {
    const known = this.costs.get(layout);
    if (known !== undefined) return known;
    const made = new LayoutCosts(layout, this.abilities, this.weights);
    this.costs.set(layout, made);
    return made;
  }
}

/** Every harp with every shift, shift by shift, smallest first: the tune where it is written comes first among equals. */
export function placesOf(harps: readonly Harp[], shifts: readonly number[], lies: LiesOf): readonly Place[] {
  const nearest = [...shifts].sort((one, other) => Math.abs(one) - Math.abs(other));
  return nearest.flatMap((shift) => harps.map((harp) => ({ harp, shift, lie: lies.of(harp, shift) })));
}
