import type { Harp } from "../../instrument/harp.ts";
import { midi } from "../../units.ts";
import { placesOf, targetMidiOf } from "./harp-sounds.ts";
import type { ReedPlace } from "./reed-reading.ts";

/** One note of a recorded walk, as far as it matters for which reed it is. */
export interface WalkedNote {
  /** Fractional, A4 = 440 Hz. */
  readonly midi: number;
}

/** Which reed a note of a recorded walk is. */
export interface PlacedNote {
  /** Null: none of this harp's reeds, as a bend or a slip is. */
  readonly place: ReedPlace | null;
  /** Another reed that fits about as well; null where there is none. */
  readonly orElse: ReedPlace | null;
}

/*
 * Costs are natural logarithms of odds, by judgement; common practice, no source. What they decide is listed in the tests.
 */
/** Scatter of reeds about where the harp as a whole lies, in cents. */
const SCATTER_CENTS = 12;
/** From here on a reed is out of tune rather than scattered: the cost grows slowly, so that its place in the order can tell it. */
const OFF_COST = 5;
const OFF_CENTS_A_COST = 40;
const FARTHEST_FLAT_CENTS = -140;
/** Reeds fall by themselves; what lies far above one is no reed. */
const FARTHEST_SHARP_CENTS = 70;
/** A note that is no reed of the harp: a bend, a slip, a voice. */
const NO_REED_COST = 9;
/** Two notes of one reed differ by this much, in cents. */
const REPEAT_CENTS = 4;
const MOST_REPEAT_COST = 3;
/** On to the next reed; over some; anywhere. */
const NEXT_COST = 0.5;
const SKIP_COST = 1.2;
const MOST_MOVE_COST = 5;
/** Another number of notes of a reed than usual. */
const COUNT_COST = 0.6;
const MOST_NOTES = 6;
/** A reed whose cost is within this of the best is not ruled out. */
const UNSURE_COST = 1;

/**
 * Which reed each note of a recorded walk is: the way through the reeds of least cost, over all ways. A note should lie where a
 * reed lies; the walk should go on in one of a few orders, up or down; and a reed should have as many notes
 * as asked for. So a reed that is repeated, left out, out of tune or out of order is told wherever the notes around it tell it.
 *
 * @param notes by time
 * @param usual notes asked for of each reed
 * @returns one answer a note
 */
export function placeNotes(
  harp: Harp,
  notes: readonly WalkedNote[],
  usual: number,
  shiftCents: number,
): readonly PlacedNote[] {
  if (notes.length === 0) return [];
  const places = placesOf(harp);
  const targets = places.map((place) => targetMidiOf(harp, place) + shiftCents / 100);
  const lattice = moveCosts(harp, places)
    .map((moves) => new Lattice(notes, targets, moves, usual))
    .reduce((best, other) => (other.least < best.least ? other : best));
  return notes.map((note, n) => {
    const { best, second, least } = lattice.at(n);
    const off = 100 * (note.midi - (targets[best] ?? 0));
    if (soundCost(off) >= NO_REED_COST) return { place: null, orElse: null };
    const other = second === null || second.cost - least > UNSURE_COST ? null : places[second.reed];
    return { place: places[best] ?? null, orElse: other ?? null };
  });
}

/** How the harp lies as a whole: the middle distance from the nearest reed, as far as notes lie near one. */
export function wholeShiftCents(harp: Harp, notes: readonly WalkedNote[]): number {
  const targets = placesOf(harp).map((place) => targetMidiOf(harp, place));
  const offsets = notes.flatMap((note) => {
    const nearest = targets.reduce((best, target) =>
      Math.abs(note.midi - target) < Math.abs(note.midi - best) ? target : best,
    );
    const off = 100 * (note.midi - midi(nearest));
    return Math.abs(off) <= 45 ? [off] : [];
  });
  const sorted = offsets.sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}

function soundCost(offCents: number): number {
  if (offCents < FARTHEST_FLAT_CENTS || offCents > FARTHEST_SHARP_CENTS) return NO_REED_COST;
  const scattered = (offCents / SCATTER_CENTS) ** 2 / 2;
  const off = OFF_COST + Math.abs(offCents) / OFF_CENTS_A_COST;
  return Math.min(scattered, off, NO_REED_COST);
}

/** Orders a walk may follow, in either direction: places in the walk by reed. */
const ORDERS: readonly ((place: ReedPlace, holes: number) => number)[] = [
  ({ hole, breath }) => 2 * hole + (breath === "draw" ? 1 : 0),
  ({ hole, breath }) => 2 * hole + (breath === "blow" ? 1 : 0),
  ({ hole, breath }, holes) => hole + (breath === "draw" ? holes : 0),
  ({ hole, breath }, holes) => hole + (breath === "blow" ? holes : 0),
];

/** What it costs to go from one reed to another, for a walk in each order. */
function moveCosts(harp: Harp, places: readonly ReedPlace[]): readonly (readonly (readonly number[])[])[] {
  return ORDERS.map((orderOf) => {
    const at = places.map((place) => orderOf(place, harp.layout.holes.length));
    const order = [...at].sort((a, b) => a - b);
    const rank = at.map((one) => order.indexOf(one));
    return rank.map((from) =>
      rank.map((to) => Math.min(MOST_MOVE_COST, NEXT_COST + SKIP_COST * (Math.abs(to - from) - 1))),
    );
  });
}

interface Choice {
  readonly best: number;
  /** Of the other reeds the one that costs least, with the cost of the whole walk then. */
  readonly second: { readonly reed: number; readonly cost: number } | null;
  readonly least: number;
}

/** All ways through reeds and counts of notes, from both ends: states are a reed and how many notes of it there were. */
class Lattice {
  private readonly reeds: number;
  private readonly before: Float64Array[] = [];
  private readonly after: Float64Array[] = [];

  constructor(
    private readonly notes: readonly WalkedNote[],
    private readonly targets: readonly number[],
    private readonly moves: readonly (readonly number[])[],
    private readonly usual: number,
  ) {
    this.reeds = targets.length;
    this.goForward();
    this.goBackward();
  }

  /** What the best walk costs. */
  get least(): number {
    return this.at(0).least;
  }

  at(n: number): Choice {
    const costs = Array.from({ length: this.reeds }, (_, reed) => this.throughReed(n, reed));
    const order = costs.map((_, reed) => reed).sort((a, b) => (costs[a] ?? 0) - (costs[b] ?? 0));
    const [best = 0, second] = order;
    return {
      best,
      second: second === undefined ? null : { reed: second, cost: costs[second] ?? 0 },
      least: costs[best] ?? 0,
    };
  }

  private throughReed(n: number, reed: number): number {
    let least = Number.POSITIVE_INFINITY;
    for (let count = 0; count < MOST_NOTES; count++) {
      const s = reed * MOST_NOTES + count;
      least = Math.min(least, (this.before[n]?.[s] ?? 0) + (this.after[n]?.[s] ?? 0));
    }
    return least;
  }

  private goForward(): void {
    const first = new Float64Array(this.reeds * MOST_NOTES).fill(Number.POSITIVE_INFINITY);
    for (let reed = 0; reed < this.reeds; reed++) {
      // A walk may begin anywhere; hole 1 is the likeliest.
      first[reed * MOST_NOTES] = this.sound(0, reed) + Math.min(MOST_MOVE_COST, (reed * SKIP_COST) / 4);
    }
    this.before.push(first);
    for (let n = 1; n < this.notes.length; n++)
      this.before.push(this.forward(n, this.before[n - 1] ?? first));
  }

  private forward(n: number, from: Float64Array): Float64Array {
    const to = new Float64Array(from.length).fill(Number.POSITIVE_INFINITY);
    const leaving = this.leastLeaving(from);
    for (let reed = 0; reed < this.reeds; reed++) {
      const sound = this.sound(n, reed);
      const stay = this.repeat(n) + sound;
      for (let count = 0; count < MOST_NOTES; count++) {
        const next = reed * MOST_NOTES + Math.min(count + 1, MOST_NOTES - 1);
        to[next] = Math.min(to[next] ?? 0, (from[reed * MOST_NOTES + count] ?? 0) + stay);
      }
      let arrive = Number.POSITIVE_INFINITY;
      for (let other = 0; other < this.reeds; other++) {
        if (other !== reed)
          arrive = Math.min(arrive, (leaving[other] ?? 0) + (this.moves[other]?.[reed] ?? 0));
      }
      to[reed * MOST_NOTES] = arrive + sound;
    }
    return to;
  }

  private goBackward(): void {
    const size = this.reeds * MOST_NOTES;
    const last = Float64Array.from({ length: size }, (_, s) => this.leave(s % MOST_NOTES));
    const reversed: Float64Array[] = [last];
    for (let n = this.notes.length - 2; n >= 0; n--) reversed.push(this.backward(n, reversed.at(-1) ?? last));
    this.after.push(...reversed.reverse());
  }

  /** What is still to come after note n, from each state. */
  private backward(n: number, next: Float64Array): Float64Array {
    const to = new Float64Array(next.length);
    for (let reed = 0; reed < this.reeds; reed++) {
      let moved = Number.POSITIVE_INFINITY;
      for (let other = 0; other < this.reeds; other++) {
        if (other === reed) continue;
        const there = this.sound(n + 1, other) + (next[other * MOST_NOTES] ?? 0);
        moved = Math.min(moved, (this.moves[reed]?.[other] ?? 0) + there);
      }
      const again = this.repeat(n + 1) + this.sound(n + 1, reed);
      for (let count = 0; count < MOST_NOTES; count++) {
        const stay = again + (next[reed * MOST_NOTES + Math.min(count + 1, MOST_NOTES - 1)] ?? 0);
        to[reed * MOST_NOTES + count] = Math.min(stay, moved + this.leave(count));
      }
    }
    return to;
  }

  private leastLeaving(from: Float64Array): Float64Array {
    return Float64Array.from({ length: this.reeds }, (_, reed) => {
      let least = Number.POSITIVE_INFINITY;
      for (let count = 0; count < MOST_NOTES; count++)
        least = Math.min(least, (from[reed * MOST_NOTES + count] ?? 0) + this.leave(count));
      return least;
    });
  }

  /** @param count notes of the reed so far, less one */
  private leave(count: number): number {
    return COUNT_COST * Math.min(3, Math.abs(count + 1 - Math.min(this.usual, MOST_NOTES)));
  }

  private sound(n: number, reed: number): number {
    return soundCost(100 * ((this.notes[n]?.midi ?? 0) - (this.targets[reed] ?? 0)));
  }

  /** What it costs that note n is the same reed as the one before it: notes of one reed lie together. */
  private repeat(n: number): number {
    const apart = 100 * ((this.notes[n]?.midi ?? 0) - (this.notes[n - 1]?.midi ?? 0));
    return Math.min(MOST_REPEAT_COST, (apart / REPEAT_CENTS) ** 2 / 2);
  }
}
