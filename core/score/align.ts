import {
  type AlignSettings,
  againCost,
  isRightPitch,
  jumpCost,
  MOST_FOR_AGAIN,
  missedCost,
  NEAR_PLAYED,
  NEAR_WRITTEN,
  type Played,
  pairCost,
  stepCost,
  type Visit,
  type Written,
} from "./align-costs.ts";

/**
 * Pairs played with written notes at least total cost (`pathCost`): in the order played, each played note used at most
 * once. Time is weighed from each answer to the next and not against the beat, so that a stop, a drift or another tempo
 * costs little. The path may leave out a passage, and may go back in the written notes: a written note met twice was
 * played again.
 *
 * Dynamic programming over played notes (as in score following: Dannenberg 1984 [M]); for n written and m played notes
 * 2 n m comparisons for the jumps, and NEAR_WRITTEN x NEAR_PLAYED steps for each answer still open: one that costs more
 * than the best so far and a jump from there is not. About a seventh of n are open at a time, so that a minute of quavers
 * takes hundredths of a second and ten minutes, 4500 notes, about two.
 *
 * @param written n >= 0 notes by onset
 * @param played  m >= 0 notes by onset
 * @returns visits, ascending by played note
 */
export function align(
  written: readonly Written[],
  played: readonly Played[],
  settings: AlignSettings,
): readonly Visit[] {
  return new Search(written, played, settings).run();
}

/** One answer, with the cheapest path to it. */
interface Node extends Visit {
  /** Of everything up to and including this answer. */
  readonly cost: number;
  readonly before: Node | null;
}

class Search {
  /** The answers given by each of the last played notes, by written note. */
  private readonly recent: (readonly Node[])[] = [];
  /** The answers found to the note at hand: written notes, and by written note the cost and the answer before. */
  private found: number[] = [];
  private readonly foundCost: Float64Array;
  private readonly foundBefore: (Node | null)[];
  /** By written note: the cheapest answer to it so far, and its cost before `alone`. */
  private readonly bestNode: (Node | null)[];
  private readonly best: Float64Array;
  /** The cheapest of all; at first the beginning, before note 0. */
  private least: { readonly cost: number; readonly written: number } = { cost: 0, written: -1 };
  /** Cost of leaving unpaired all played notes before one. */
  private readonly alone: Float64Array;
  /** Of all answers to this or a later written note, the cheapest; -1 for none. */
  private readonly later: Int32Array;
  /** Of all answers to this or an earlier written note, the cheapest to jump far from; -1 for none. */
  private readonly earlier: Int32Array;
  private readonly byPitch: PitchIndex;

  constructor(
    private readonly written: readonly Written[],
    private readonly played: readonly Played[],
    private readonly settings: AlignSettings,
  ) {
    this.bestNode = written.map(() => null);
    this.best = new Float64Array(written.length).fill(Number.POSITIVE_INFINITY);
    this.foundCost = new Float64Array(written.length).fill(Number.POSITIVE_INFINITY);
    this.foundBefore = written.map(() => null);
    this.alone = new Float64Array(played.length + 1);
    for (const [place, note] of played.entries())
      this.alone[place + 1] = at(this.alone, place) + note.aloneCost;
    this.later = new Int32Array(written.length + 1).fill(-1);
    this.earlier = new Int32Array(written.length + 1).fill(-1);
    this.byPitch = new PitchIndex(written);
  }

  run(): readonly Visit[] {
    for (const [place, note] of this.played.entries()) {
      if (note.midi !== null) this.jump(note, place);
      if (place < NEAR_PLAYED) this.stepsFrom(null, place);
      for (const nodes of this.recent) for (const node of nodes) this.stepsFrom(node, place);
      this.keep(place);
    }
    return this.cheapestWhole();
  }

  /** Every jump onto a right note that can still belong to the best path. */
  private jump(note: Played, place: number): void {
    this.readJumps();
    const { rightNoteCents } = this.settings;
    for (const i of this.byPitch.near(note.midi ?? 0, rightNoteCents)) {
      const landing = this.written[i];
      if (landing === undefined) continue;
      const pair = pairCost(landing, note, rightNoteCents);
      const [from, way] = this.cheapestWay(i, landing);
      this.offer(i, place, this.bestNode[from] ?? null, way + at(this.alone, place) + pair);
    }
  }

  /** Where to jump to a written note from, -1 for the beginning, and the cost up to there before `alone`. */
  private cheapestWay(i: number, landing: Written): readonly [from: number, cost: number] {
    let from = -1;
    let least = jumpCost(i);
    const consider = (one: number, way: number) => {
      if (one === -1 || at(this.best, one) + way >= least) return;
      from = one;
      least = at(this.best, one) + way;
    };
    for (let near = Math.max(0, i - NEAR_WRITTEN); near < i; near++) consider(near, jumpCost(i - near - 1));
    const far = i > NEAR_WRITTEN ? at(this.earlier, i - NEAR_WRITTEN - 1) : -1;
    if (far !== -1) consider(far, jumpCost(i - far - 1));
    consider(at(this.later, i), againCost(landing));
    return [from, least];
  }

  private readJumps(): void {
    const { best, later, earlier, written } = this;
    let from = -1;
    for (let i = written.length - 1; i >= 0; i--) {
      if (from === -1 || at(best, i) < at(best, from)) from = i;
      later[i] = from;
    }
    from = -1;
    for (let i = 0; i < written.length; i++) {
      // What is left out grows with the distance, by the same for all.
      if (
        from === -1 ||
        at(best, i) <= at(best, from) + missedCost(i - from + NEAR_WRITTEN) - missedCost(NEAR_WRITTEN)
      )
        from = i;
      earlier[i] = from;
    }
  }

  /** Every near step from an answer, or from the beginning. */
  private stepsFrom(from: Node | null, place: number): void {
    const first = (from?.written ?? -1) + 1;
    const end = Math.min(this.written.length, first + NEAR_WRITTEN);
    const sofar = this.costAfter(from, place);
    for (let i = first; i < end; i++) {
      if (sofar + missedCost(i - first) > this.mostAt(i, place)) continue;
      const visit = { written: i, played: place };
      const step = stepCost(from, visit, this.written, this.played, this.settings);
      this.offer(i, place, from, sofar + step);
    }
  }

  /** An answer that costs more is no better than a jump from the cheapest to wherever it leads. */
  private mostAt(written: number, place: number): number {
    const { least } = this;
    const jump = written > least.written ? jumpCost(written - least.written) : MOST_FOR_AGAIN;
    return least.cost + at(this.alone, place + 1) + jump;
  }

  private offer(written: number, place: number, before: Node | null, cost: number): void {
    const known = at(this.foundCost, written);
    if (cost >= known || cost > this.mostAt(written, place)) return;
    if (known === Number.POSITIVE_INFINITY) this.found.push(written);
    this.foundCost[written] = cost;
    this.foundBefore[written] = before;
  }

  /** Cost of a path, with the played notes after it and before `place` left unpaired. */
  private costAfter(node: Node | null, place: number): number {
    const since = node === null ? 0 : at(this.alone, node.played + 1);
    return (node?.cost ?? 0) + at(this.alone, place) - since;
  }

  /** Keeps the answers that may still belong to the best path, for near steps and for jumps. */
  private keep(place: number): void {
    const { found, foundCost } = this;
    const alone = at(this.alone, place + 1);
    for (const i of found)
      if (at(foundCost, i) - alone < this.least.cost)
        this.least = { cost: at(foundCost, i) - alone, written: i };
    const open = found.filter((i) => at(foundCost, i) <= this.mostAt(i, place));
    const nodes = open.map((i): Node => {
      const node = { written: i, played: place, cost: at(foundCost, i), before: this.foundBefore[i] ?? null };
      if (node.cost - alone < at(this.best, i)) {
        this.best[i] = node.cost - alone;
        this.bestNode[i] = node;
      }
      return node;
    });
    for (const i of found) foundCost[i] = Number.POSITIVE_INFINITY;
    this.found = [];
    this.recent.push(nodes);
    if (this.recent.length >= NEAR_PLAYED) this.recent.shift();
  }

  private cheapestWhole(): readonly Visit[] {
    const wholeCost = (node: Node | null) =>
      this.costAfter(node, this.played.length) + missedCost(this.written.length - 1 - (node?.written ?? -1));
    let last: Node | null = null;
    for (const node of this.bestNode) if (node !== null && wholeCost(node) < wholeCost(last)) last = node;
    const path: Visit[] = [];
    for (let node = last; node !== null; node = node.before)
      path.push({ written: node.written, played: node.played });
    return path.reverse();
  }
}

/** The written notes near a pitch, without looking at all of them. */
class PitchIndex {
  private readonly places = new Map<number, number[]>();

  constructor(private readonly written: readonly Written[]) {
    for (const [place, note] of written.entries()) {
      const semitone = Math.round(note.midi);
      const same = this.places.get(semitone);
      if (same === undefined) this.places.set(semitone, [place]);
      else same.push(place);
    }
  }

  /** Places of the written notes within so many cents of a pitch. */
  *near(midi: number, withinCents: number): Iterable<number> {
    const reach = Math.ceil(withinCents / 100) + 1;
    for (let semitone = Math.round(midi) - reach; semitone <= Math.round(midi) + reach; semitone++) {
      for (const place of this.places.get(semitone) ?? []) {
        const note = this.written[place];
        if (note !== undefined && isRightPitch(note, midi, withinCents)) yield place;
      }
    }
  }
}

const at = (numbers: Float64Array | Int32Array, place: number): number => numbers[place] ?? -1;
