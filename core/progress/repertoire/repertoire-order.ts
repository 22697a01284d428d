import type { PlannedTune } from "./repertoire-dance.ts";
import { type HarpPlace, isPlain } from "./repertoire-lay.ts";

/** More tunes than this are left as they stand. */
export const MOST_ORDERED = 9;

/** A tune that is to be put in order: on which harps it may be played, and on which it stands now. */
export interface OrderTune {
  /** Keys of harps, each once, at least one. */
  readonly harps: readonly string[];
  readonly now: string;
}

/** An order of a set with the fewest harp changes. */
export interface SetOrder {
  /** Places in the set as it stands, in the order suggested. */
  readonly order: readonly number[];
  /** The harp of each, in that order. */
  readonly harps: readonly string[];
  readonly changes: number;
  /** Of the set as it stands. */
  readonly changesNow: number;
}

/**
 * The order and the harps with the fewest changes; of those the one that takes the fewest tunes off their harp; of those the
 * one that turns the fewest pairs of tunes round. Exact: the best for every subset played so far and harp in hand
 * (Held and Karp 1962), where a tune costs the same whatever order the ones before it had.
 *
 * @param tunes as the set stands; null is the answer for fewer than two and for more than `MOST_ORDERED`
 */
export function fewestChanges(tunes: readonly OrderTune[]): SetOrder | null {
  if (tunes.length < 2 || tunes.length > MOST_ORDERED) return null;
  const best: Map<string, Step>[] = Array.from({ length: 2 ** tunes.length }, () => new Map<string, Step>());
  for (const [played, steps] of best.entries()) {
    for (const [place, tune] of tunes.entries()) {
      if ((played & (1 << place)) !== 0) continue;
      const into = best[played | (1 << place)];
      if (into === undefined) continue;
      const turned = ones(played >> (place + 1));
      for (const harp of tune.harps) {
        const moved = (harp === tune.now ? 0 : MOVED) + turned;
        if (played === 0) keep(into, { place, harp, cost: moved, before: null });
        for (const before of steps.values())
          keep(into, {
            place,
            harp,
            cost: before.cost + moved + (before.harp === harp ? 0 : CHANGE),
            before,
          });
      }
    }
  }
  const ends = [...(best.at(-1)?.values() ?? [])];
  const [first] = ends;
  if (first === undefined) return null;
  const row = backwards(ends.reduce((least, one) => (one.cost < least.cost ? one : least), first));
  const harps = row.map(({ harp }) => harp);
  return {
    order: row.map(({ place }) => place),
    harps,
    changes: changesIn(harps),
    changesNow: changesIn(tunes.map(({ now }) => now)),
  };
}

/** One number holds all three: nine tunes have at most 36 pairs turned round and nine tunes moved. */
const MOVED = 100;
const CHANGE = 10_000;

interface Step {
  readonly place: number;
  readonly harp: string;
  readonly cost: number;
  readonly before: Step | null;
}

function keep(steps: Map<string, Step>, step: Step): void {
  const known = steps.get(step.harp);
  if (known === undefined || step.cost < known.cost) steps.set(step.harp, step);
}

function backwards(last: Step): readonly Step[] {
  const row: Step[] = [];
  for (let at: Step | null = last; at !== null; at = at.before) row.unshift(at);
  return row;
}

function ones(bits: number): number {
  let count = 0;
  for (let rest = bits; rest !== 0; rest &= rest - 1) count++;
  return count;
}

export const changesIn = (harps: readonly string[]): number =>
  harps.filter((harp, place) => place > 0 && harp !== harps[place - 1]).length;

/** On which harps a tune of a set may be played: the one chosen for it alone; else its best and all that play it plain. */
export function orderTune({ laid, place }: PlannedTune): OrderTune | null {
  if (laid === null || place === null) return null;
  const others = laid.chosen ? [] : laid.onEach.filter(isPlain);
  return { harps: [...new Set([place, ...others].map(({ key }: HarpPlace) => key))], now: place.key };
}
