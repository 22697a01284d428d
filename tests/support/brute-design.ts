/** Every layout within a design's limits, tried one by one: what the searches of the workshop are held against. */
import { type Hole, type Layout, reedsOf } from "../../core/instrument/layout.ts";
import { semitones } from "../../core/units.ts";
import type { DesignWish } from "../../core/workshop/design/wish.ts";

export interface TriedLayout {
  readonly layout: Layout;
  readonly changed: number;
  readonly moved: number;
}

/** All layouts that meet a wish, with how much they change; small harps only. Shares no code with what it checks. */
export function everyLayoutThatPlays(wish: DesignWish, notes: readonly number[]): readonly TriedLayout[] {
  const { layout } = wish.harp;
  const found: TriedLayout[] = [];
  const values: (number | null)[] = [];
  const options = layout.holes.flatMap((hole, index) =>
    (["blow", "draw"] as const).map((breath) => {
      const reed = hole[breath];
      if (reed === null) return [null];
      const own = wish.limits.reeds.find((one) => one.hole === index + 1 && one.breath === breath);
      const { up, down } = own ?? { up: wish.limits.mostSemitones, down: wish.limits.mostSemitones };
      return Array.from({ length: up + down + 1 }, (_, step) => reed - down + step);
    }),
  );
  const go = (place: number) => {
    if (place === options.length) {
      const tried = tuned(layout, values);
      if (meets(wish, tried.layout, tried.changed, notes)) found.push(tried);
      return;
    }
    for (const value of options[place] ?? []) {
      values[place] = value;
      go(place + 1);
    }
  };
  go(0);
  return found;
}

function tuned(start: Layout, values: readonly (number | null)[]): TriedLayout {
  let changed = 0;
  let moved = 0;
  const holes = start.holes.map((hole, index): Hole => {
    const blow = values[2 * index] ?? null;
    const draw = values[2 * index + 1] ?? null;
    for (const [was, is] of [
      [hole.blow, blow],
      [hole.draw, draw],
    ] as const)
      if (was !== null && is !== null && was !== is) {
        changed++;
        moved += Math.abs(is - was);
      }
    return {
      ...hole,
      blow: blow === null ? null : semitones(blow),
      draw: draw === null ? null : semitones(draw),
    };
  });
  return { layout: { ...start, holes }, changed, moved };
}

function meets(wish: DesignWish, layout: Layout, changed: number, notes: readonly number[]): boolean {
  const { limits } = wish;
  const sounding = reedsOf(layout).map((reed) => Number(reed.sounds));
  if (!notes.every((note) => sounding.includes(note))) return false;
  if (limits.mostChanged !== null && changed > limits.mostChanged) return false;
  const { order } = limits;
  const ordered = layout.holes.every(({ blow, draw }, index) => {
    const its = typeof order === "string" ? order : order[index];
    if (blow === null || draw === null || its === "free") return true;
    return its === "draw higher" ? draw - blow > 0 : blow - draw > 0;
  });
  return ordered && keepsBends(wish, layout) && keepsChords(wish, layout);
}

/** By the two-reed rule: the higher reed bends to what lies between the two, less the semitone above the lower. */
function keepsBends({ harp, limits }: DesignWish, layout: Layout): boolean {
  return limits.bends.every(({ hole, breath, bentSemitones }) => {
    const note = Number(harp.layout.holes[hole - 1]?.[breath]) - bentSemitones;
    const now = layout.holes[hole - 1];
    const own = Number(now?.[breath]);
    const other = Number(now?.[breath === "blow" ? "draw" : "blow"]);
    return other < note && note < own;
  });
}

function keepsChords({ harp, limits }: DesignWish, layout: Layout): boolean {
  const names = (its: Layout, chord: (typeof limits.chords)[number]) =>
    [...new Set(chord.holes.map((hole) => (Number(its.holes[hole - 1]?.[chord.breath]) + 240) % 12))]
      .sort((one, other) => one - other)
      .join();
  return limits.chords.every((chord) => names(harp.layout, chord) === names(layout, chord));
}

/** Different triads of some on three neighbouring holes of one breath, and on how many places. @param triads pitch classes */
export function triadsOn(layout: Layout, triads: readonly (readonly number[])[]) {
  let places = 0;
  const have = new Set<string>();
  for (const breath of ["blow", "draw"] as const)
    for (let first = 0; first + 3 <= layout.holes.length; first++) {
      const grip = layout.holes.slice(first, first + 3).map((hole) => hole[breath]);
      if (grip.includes(null)) continue;
      const names = [...new Set(grip.map((reed) => (Number(reed) + 240) % 12))].sort((a, b) => a - b).join();
      for (const triad of triads) {
        if ([...triad].sort((a, b) => a - b).join() !== names) continue;
        places++;
        have.add(names);
      }
    }
  return { different: have.size, places };
}
