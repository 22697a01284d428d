import { reedsOf } from "../../instrument/layout.ts";
import type { Progress } from "../../path/long-work.ts";
import { noteName } from "../../pitch/note-names.ts";
import { midi } from "../../units.ts";
import { coverLine } from "./cover-design.ts";
import { type HoleOrder, LARGEST_MOST_SEMITONES, type Limits, orderOf } from "./limits.ts";
import { type DesignWish, notesOfScale, wantedNotes } from "./wish.ts";

/** The kinds of limit a wish can have. */
export type LimitKind = "semitones" | "changed" | "reeds" | "order" | "chords" | "bends" | "triads";

/** One way to make an impossible wish possible: every part of it is needed. */
export interface Loosening {
  /** Which limits give way; "notes" where some are left out instead. */
  readonly kinds: readonly (LimitKind | "notes")[];
  /** What to loosen and to what, one line for each. */
  readonly words: readonly string[];
  /** The wish made so. */
  readonly wish: DesignWish;
}

/**
 * The least that has to give way. Each limit alone is tried first, then two together, then three ...; the first number of
 * limits that is enough gives the answers. Within each, numbers are raised no further than needed, and of reeds, holes, chords
 * and bends only those are freed without which it cannot be done. Leaving notes out at the ends of the range is one more answer.
 *
 * @param wish one that cannot be met
 */
export function* loosenings(wish: DesignWish): Generator<Progress, readonly Loosening[]> {
  const kinds = ACTIVE.filter((kind) => isActive(kind, wish));
  const found: Loosening[] = [];
  for (let size = 1; size <= kinds.length && found.length === 0; size++) {
    for (const some of subsets(kinds, size)) {
      const loosened = yield* loosen(wish, some);
      if (loosened !== null) found.push(loosened);
    }
  }
  const shorter = yield* fewerNotes(wish);
  return shorter === null ? found : [...found, shorter];
}

const ACTIVE: readonly LimitKind[] = ["semitones", "changed", "reeds", "order", "chords", "bends", "triads"];

function isActive(kind: LimitKind, { harp, limits, mustHave }: DesignWish): boolean {
  switch (kind) {
    case "semitones":
      return limits.mostSemitones < LARGEST_MOST_SEMITONES;
    case "changed":
      return limits.mostChanged !== null;
    case "reeds":
      return limits.reeds.length > 0;
    case "order":
      return harp.layout.holes.some((_, index) => orderOf(limits, index + 1) !== "free");
    case "chords":
      return limits.chords.length > 0;
    case "bends":
      return limits.bends.length > 0;
    case "triads":
      return mustHave.length > 0;
  }
}

function subsets<T>(all: readonly T[], size: number): readonly (readonly T[])[] {
  if (size === 0) return [[]];
  return all.flatMap((one, place) => subsets(all.slice(place + 1), size - 1).map((rest) => [one, ...rest]));
}

/** The fewest changes a wish can be met with; null where it cannot, or there are more ways than are gone through. */
function* fewest(wish: DesignWish): Generator<Progress, number | null> {
  const line = yield* coverLine({ ...wish, chordsCount: false }, { wholeLine: false });
  return line.kind === "line" ? (line.points[0]?.changed ?? null) : null;
}

function* loosen(wish: DesignWish, kinds: readonly LimitKind[]): Generator<Progress, Loosening | null> {
  const rest = kinds.filter((kind) => kind !== "semitones");
  const dropped = rest.reduce(without, wish);
  const enough = kinds.includes("semitones")
    ? yield* semitonesEnough(dropped)
    : (yield* fewest(dropped)) !== null && dropped;
  if (enough === null || enough === false) return null;
  let loosened = enough;
  for (const kind of rest) loosened = yield* restored(loosened, wish, kind);
  return { kinds, words: kinds.flatMap((kind) => wordsOf(kind, wish, loosened)), wish: loosened };
}

const withLimits = (wish: DesignWish, limits: Partial<Limits>): DesignWish => ({
  ...wish,
  limits: { ...wish.limits, ...limits },
});

/** The wish with a kind of limit dropped altogether. */
function without(wish: DesignWish, kind: LimitKind): DesignWish {
  switch (kind) {
    case "semitones":
      return withLimits(wish, { mostSemitones: LARGEST_MOST_SEMITONES });
    case "changed":
      return withLimits(wish, { mostChanged: null });
    case "reeds":
      return withLimits(wish, { reeds: [] });
    case "order":
      return withLimits(wish, { order: "free" });
    case "chords":
      return withLimits(wish, { chords: [] });
    case "bends":
      return withLimits(wish, { bends: [] });
    case "triads":
      return { ...wish, mustHave: [] };
  }
}

function* semitonesEnough(wish: DesignWish): Generator<Progress, DesignWish | null> {
  for (let most = wish.limits.mostSemitones + 1; most <= LARGEST_MOST_SEMITONES; most++) {
    const wider = withLimits(wish, { mostSemitones: most });
    if ((yield* fewest(wider)) !== null) return wider;
  }
  return null;
}

/** A possible wish with as much as possible of a dropped kind of limit put back as it was in the first one. */
function* restored(
  possible: DesignWish,
  first: DesignWish,
  kind: LimitKind,
): Generator<Progress, DesignWish> {
  const { limits } = first;
  switch (kind) {
    case "semitones":
      return possible;
    case "changed":
      return withLimits(possible, { mostChanged: yield* fewest(possible) });
    case "reeds":
      return yield* putBack(possible, limits.reeds, (reeds) => withLimits(possible, { reeds }));
    case "order":
      return yield* putBack(possible, ordersOf(first), (orders) =>
        withLimits(possible, { order: orderFrom(first, orders) }),
      );
    case "chords":
      return yield* putBack(possible, limits.chords, (chords) => withLimits(possible, { chords }));
    case "bends":
      return yield* putBack(possible, limits.bends, (bends) => withLimits(possible, { bends }));
    case "triads":
      return yield* putBack(possible, first.mustHave, (mustHave) => ({ ...possible, mustHave }));
  }
}

/** One after the other is put back and stays if it still can be done: of those left out each one stands in the way. */
function* putBack<T>(
  possible: DesignWish,
  all: readonly T[],
  wishWith: (some: readonly T[]) => DesignWish,
): Generator<Progress, DesignWish> {
  let kept: readonly T[] = [];
  let wish = possible;
  for (const one of all) {
    const tried = wishWith([...kept, one]);
    if ((yield* fewest(tried)) === null) continue;
    kept = [...kept, one];
    wish = tried;
  }
  return wish;
}

interface OrderOfHole {
  readonly hole: number;
  readonly order: HoleOrder;
}

const ordersOf = ({ harp, limits }: DesignWish): readonly OrderOfHole[] =>
  harp.layout.holes.flatMap((_, index) => {
    const order = orderOf(limits, index + 1);
    return order === "free" ? [] : [{ hole: index + 1, order }];
  });

const orderFrom = ({ harp }: DesignWish, orders: readonly OrderOfHole[]): readonly HoleOrder[] =>
  harp.layout.holes.map((_, index) => orders.find(({ hole }) => hole === index + 1)?.order ?? "free");

/** Notes are left out at the ends of the range, as few as possible, of equally many rather at the top. */
function* fewerNotes(wish: DesignWish): Generator<Progress, Loosening | null> {
  const notes = wantedNotes(wish);
  const reeds = reedsOf(wish.harp.layout).length;
  for (let cut = 1; cut < notes.length; cut++) {
    for (let low = 0; low <= cut; low++) {
      const kept = notes.slice(low, notes.length - (cut - low));
      const from = midi((kept[0] ?? 0) + wish.harp.keyNote);
      const to = midi((kept.at(-1) ?? 0) + wish.harp.keyNote);
      const scales = wish.scales
        .map((scale) => ({
          ...scale,
          low: midi(Math.max(scale.low, from)),
          high: midi(Math.min(scale.high, to)),
        }))
        .filter((scale) => notesOfScale(scale).length > 0);
      const shorter = { ...wish, scales };
      if (scales.length < wish.scales.length || (yield* fewest(shorter)) === null) continue;
      const left = notes.length - kept.length === 1 ? "1 note" : `${notes.length - kept.length} notes`;
      const why =
        notes.length > reeds ? `${notes.length} notes are more than the harp's ${reeds} reeds: ` : "";
      const words = [`${why}ask for ${noteName(from)} to ${noteName(to)} only, ${left} fewer`];
      return { kinds: ["notes"], words, wish: shorter };
    }
  }
  return null;
}

function wordsOf(kind: LimitKind, before: DesignWish, after: DesignWish): readonly string[] {
  const left = <T>(first: readonly T[], kept: readonly T[]) => first.filter((one) => !kept.includes(one));
  switch (kind) {
    case "semitones":
      return [
        `let reeds move ${after.limits.mostSemitones} semitones; no layout keeps every reed within ${before.limits.mostSemitones}`,
      ];
    case "changed":
      return [`let ${after.limits.mostChanged} reeds be changed; ${before.limits.mostChanged} are too few`];
    case "reeds":
      return left(before.limits.reeds, after.limits.reeds).map(
        ({ hole, breath, up, down }) =>
          `let ${hole} ${breath} move as the others may${up === 0 && down === 0 ? "; it must stay now" : ""}`,
      );
    case "order": {
      const kept = ordersOf(after).map(({ hole }) => hole);
      return ordersOf(before)
        .filter(({ hole }) => !kept.includes(hole))
        .map(({ hole, order }) => `let hole ${hole} be free; ${order} cannot be there`);
    }
    case "chords":
      return left(before.limits.chords, after.limits.chords).map(
        ({ breath, holes }) => `give up the chord ${holes.join("-")} ${breath}`,
      );
    case "bends":
      return left(before.limits.bends, after.limits.bends).map(
        ({ hole, breath, bentSemitones }) => `give up the bend of ${hole} ${breath} by ${bentSemitones}`,
      );
    case "triads":
      return left(before.mustHave, after.mustHave).map((numeral) => `do without a complete ${numeral}`);
  }
}
