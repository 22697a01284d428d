import { renameLayout } from "../../instrument/change-layout.ts";
import { type Harp, reedNote } from "../../instrument/harp.ts";
import { BREATHS, type Breath, type Layout, reedsOf } from "../../instrument/layout.ts";
import { STOCK_LAYOUTS } from "../../instrument/stock-layouts.ts";
import { type Midi, midi } from "../../units.ts";
import { changesBetween } from "./limits.ts";
import { notesOfReeds, TRIAD_HOLES, triadsOfWish, type WantedTriad } from "./triads-wanted.ts";
import { type DesignWish, wantedNotes } from "./wish.ts";

/**
 * A layout found, under a name of its own: "standard, 7 reeds changed", a letter after it from the second of as many changes
 * on. One without changes keeps its name.
 *
 * @param place among those of as many changes, counted from 0
 */
export function nameFound(start: Layout, layout: Layout, place: number): Layout {
  const changed = changesBetween(start, layout).length;
  if (changed === 0) return start;
  const letter = place === 0 ? "" : ` ${String.fromCharCode(97 + (place % 26))}`;
  return renameLayout(
    layout,
    `${start.name}, ${changed} ${changed === 1 ? "reed" : "reeds"} changed${letter}`,
  );
}

/** Three neighbouring holes of one breath that sound a triad. */
export interface TriadGrip {
  readonly triad: WantedTriad;
  readonly breath: Breath;
  /** Counted from 1. */
  readonly holes: readonly number[];
}

/** Every place of a layout where three neighbours of one breath sound one of some triads complete, in the triads' order. */
export function triadGrips(layout: Layout, triads: readonly WantedTriad[]): readonly TriadGrip[] {
  return triads.flatMap((triad) =>
    BREATHS.flatMap((breath) =>
      layout.holes.flatMap((_, first) => {
        const grip = layout.holes.slice(first, first + TRIAD_HOLES);
        const isIt =
          grip.length === TRIAD_HOLES && notesOfReeds(grip.map((hole) => hole[breath])) === triad.notes;
        return isIt ? [{ triad, breath, holes: grip.map((__, place) => first + place + 1) }] : [];
      }),
    ),
  );
}

/** Notes asked for that a layout has no plain reed for, on the harp's key note. */
export function missingNotes(wish: DesignWish, layout: Layout): readonly Midi[] {
  const sounding = new Set(reedsOf(layout).map((reed) => Number(reed.sounds)));
  return wantedNotes(wish)
    .filter((note) => !sounding.has(note))
    .map((note) => midi(note + wish.harp.keyNote));
}

/** A layout of the catalogue beside a design. */
export interface CatalogueLine {
  readonly layout: Layout;
  /** Reeds that differ from the start, a reed that only one of the two has counted too. */
  readonly apart: number;
  readonly missing: readonly Midi[];
  readonly grips: readonly TriadGrip[];
}

/** Every layout of the catalogue on the key note of the wish's harp: what it would have given. The start itself is left out. */
export function catalogueBeside(wish: DesignWish): readonly CatalogueLine[] {
  const triads = triadsOfWish(wish);
  return STOCK_LAYOUTS.map((layout) => ({
    layout,
    apart: reedsApart(wish.harp, { ...wish.harp, layout }),
    missing: missingNotes(wish, layout),
    grips: triadGrips(layout, triads),
  })).filter(({ apart }) => apart > 0);
}

function reedsApart(one: Harp, other: Harp): number {
  const holes = Math.max(one.layout.holes.length, other.layout.holes.length);
  let apart = 0;
  for (let hole = 1; hole <= holes; hole++)
    for (const breath of BREATHS) if (reedNote(one, hole, breath) !== reedNote(other, hole, breath)) apart++;
  return apart;
}
