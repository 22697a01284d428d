import type { Harp } from "../../core/instrument/harp.ts";

/*
 * What a retuning asks for, found the long way: every harp held against every other, every way to give harps out tried. By
 * whole semitones from the layouts alone, 100 cents each, so nothing of the product's arithmetic is used. [calc]
 */

/** Sum and largest change in cents; null where holes or reeds do not fit. */
export function bySemitones(harp: Harp, wanted: Harp): readonly [total: number, largest: number] | null {
  if (harp.layout.holes.length !== wanted.layout.holes.length) return null;
  const moves: number[] = [];
  for (const [place, hole] of wanted.layout.holes.entries())
    for (const breath of ["blow", "draw"] as const) {
      const [own, its] = [harp.layout.holes[place]?.[breath] ?? null, hole[breath]];
      if (its === null) continue;
      if (own === null) return null;
      moves.push(Math.abs(wanted.keyNote + its - harp.keyNote - own));
    }
  return [100 * moves.reduce((sum, move) => sum + move, 0), 100 * Math.max(...moves)];
}

/** Both measures, as text, of every harp that no other beats. */
export function unbeatenPairs(stock: readonly Harp[], wanted: Harp): readonly string[] {
  const all = stock.flatMap((harp) => {
    const found = bySemitones(harp, wanted);
    return found === null ? [] : [found];
  });
  const left = all.filter(
    ([total, largest]) => !all.some(([t, l]) => t <= total && l <= largest && (t < total || l < largest)),
  );
  return [...new Set(left.map(([total, largest]) => `${total} ${largest}`))].sort();
}

export interface GivenOut {
  readonly used: number;
  readonly total: number;
  readonly largest: number;
}

/**
 * The best of all ways to make wanted harps of one reed out of owned ones, each once, at most two semitones off: as many as
 * can be, then the least total, or the least largest and then the least total.
 */
export function bestByTrying(
  wanted: readonly number[],
  owned: readonly number[],
  by: "total" | "largest",
): GivenOut {
  const rank = ({ used, total, largest }: GivenOut) =>
    by === "total" ? [-used, total] : [-used, largest, total];
  const isBetter = (one: GivenOut, other: GivenOut) => {
    const [a, b] = [rank(one), rank(other)];
    const place = a.findIndex((value, n) => value !== b[n]);
    return place >= 0 && (a[place] ?? 0) < (b[place] ?? 0);
  };
  const go = (place: number, free: readonly number[], so: GivenOut): GivenOut => {
    const note = wanted[place];
    if (note === undefined) return so;
    let best = go(place + 1, free, so);
    for (const own of free) {
      const move = 100 * Math.abs((owned[own] ?? 0) - note);
      if (move > 200) continue;
      const next = { used: so.used + 1, total: so.total + move, largest: Math.max(so.largest, move) };
      const found = go(
        place + 1,
        free.filter((one) => one !== own),
        next,
      );
      if (isBetter(found, best)) best = found;
    }
    return best;
  };
  const everyPlace = owned.map((_, place) => place);
  return go(0, everyPlace, { used: 0, total: 0, largest: 0 });
}
