import { type Layout, reedsOf } from "../../instrument/layout.ts";
import type { Progress } from "../../path/long-work.ts";
import { chordWatch } from "./chord-watch.ts";
import { frontierSteps, type HoleStep } from "./coverage-frontier.ts";
import { bestCoverings } from "./coverage-search.ts";
import { CoverageTable } from "./coverage-table.ts";
import { holeChoices } from "./hole-choices.ts";
import { layoutOfHoles } from "./layout-of-holes.ts";
import { assignedLayout, isPlainAssignment } from "./plain-assignment.ts";
import { triadsOfWish, triadsToHave } from "./triads-wanted.ts";
import { type DesignWish, wantedNotes } from "./wish.ts";

/** One point of the line: layouts with equally many changes. */
export interface CoverPoint {
  readonly changed: number;
  /** Semitones moved by all changes of the first layout together. */
  readonly moved: number;
  /** The best first; see `DesignWish.chordsCount`. */
  readonly layouts: readonly Layout[];
  /**
   * How many layouts with so many changes play the scales at all; chords to keep and to have are not asked for in it. Null where
   * they are too many to be gone through: then the one told changes fewest and moves least, and its chords are not looked at.
   */
  readonly ways: number | null;
  /** False where the search left ways out: there might be a better one with as many changes. */
  readonly proved: boolean;
}

export type CoverLine =
  /** Fewest changes first; each further point changes more reeds and moves them less in all. */
  | { readonly kind: "line"; readonly points: readonly CoverPoint[] }
  | { readonly kind: "impossible" }
  /** More ways to cover the notes, with orders, bends, chords or triads to obey, than are gone through: a narrower limit is needed. */
  | { readonly kind: "too many ways" };

export interface CoverOptions {
  /** Layouts told of each point; 1 where absent. */
  readonly most?: number;
  /** Whether more changes than the fewest are looked at; true where absent. */
  readonly wholeLine?: boolean;
}

/**
 * The layouts that sound every wanted note on a reed of its own within the limits: exactly the fewest changed reeds, and from
 * there on the least moved in all for every number of changes that moves less.
 *
 * @param wish without faults, see `wishFaults`
 */
export function* coverLine(wish: DesignWish, options: CoverOptions = {}): Generator<Progress, CoverLine> {
  const { most = 1, wholeLine = true } = options;
  const { harp, limits } = wish;
  const notes = wantedNotes(wish);
  const reeds = reedsOf(harp.layout).length;
  if (notes.length > reeds) return { kind: "impossible" };
  // What a triad to be had asks for may lie beyond the scales' ranges; everything else is asked for by a scale.
  const alsoWorth = triadsToHave(wish).reduce((bits, triad) => bits | triad, 0);
  const choices = holeChoices({ start: harp.layout, limits, notes: new Set(notes), alsoWorth });
  const steps = frontierSteps(choices, notes);
  if (steps === null) return { kind: "impossible" };
  if (steps === "too wide") return manyWays(wish, notes);
  const mostChanged = Math.min(limits.mostChanged ?? reeds, reeds);
  const table = yield* CoverageTable.of(steps, mostChanged);
  if (table === null) return manyWays(wish, notes);
  const points: CoverPoint[] = [];
  for (let changed = 0; changed <= mostChanged; changed++) {
    const least = points.at(-1)?.moved ?? Number.POSITIVE_INFINITY;
    if (!(table.leastMoved(0, 0, changed) < least)) continue;
    const point = yield* pointWith(wish, steps, table, { changed, most, isFirst: points.length === 0 });
    if (point !== null && point.moved < least) points.push(point);
    if (points.length > 0 && !wholeLine) break;
  }
  return points.length === 0 ? { kind: "impossible" } : { kind: "line", points };
}

/** Too many ways to go through: where each reed has only limits of its own, the first point of the line is still found exactly. */
function manyWays({ harp, limits, mustHave }: DesignWish, notes: readonly number[]): CoverLine {
  if (mustHave.length > 0 || !isPlainAssignment(harp.layout, limits)) return { kind: "too many ways" };
  const found = assignedLayout(harp.layout, limits, notes);
  if (found === null) return { kind: "impossible" };
  const { layout, changed, moved } = found;
  return { kind: "line", points: [{ changed, moved, layouts: [layout], ways: null, proved: true }] };
}

interface PointGoal {
  readonly changed: number;
  readonly most: number;
  readonly isFirst: boolean;
}

function* pointWith(
  wish: DesignWish,
  steps: readonly HoleStep[],
  table: CoverageTable,
  { changed, most, isFirst }: PointGoal,
): Generator<Progress, CoverPoint | null> {
  const triads = wish.chordsCount || wish.mustHave.length > 0 ? triadsOfWish(wish) : [];
  const mustHave = wish.mustHave.reduce((bits, numeral) => {
    const place = triads.findIndex((triad) => triad.numeral === numeral);
    return place < 0 ? bits : bits | (1 << place);
  }, 0);
  const watch = chordWatch(wish.harp.layout, triads, wish.limits.chords);
  const first = wish.chordsCount && isFirst ? "chords" : "least moved";
  const { best, proved } = yield* bestCoverings(steps, table, { changed, most, mustHave, watch, first });
  const [top] = best;
  if (top === undefined) return null;
  return {
    changed,
    moved: top.moved,
    layouts: best.map((covering) => layoutOfHoles(wish.harp.layout, covering.holes)),
    ways: table.ways(changed),
    proved,
  };
}
