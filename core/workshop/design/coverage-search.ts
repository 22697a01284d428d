import { type Progress, TRIES_A_STEP } from "../../path/long-work.ts";
import { type ChordWatch, countBits, type Heard, heardKey, hearHole, NOTHING_HEARD } from "./chord-watch.ts";
import { carriedOver, type HoleStep, isDone } from "./coverage-frontier.ts";
import type { CoverageTable } from "./coverage-table.ts";
import type { HoleChoice } from "./hole-choices.ts";

export interface CoverageGoal {
  /** Exactly so many reeds differ from the start. */
  readonly changed: number;
  /** As many layouts as are wanted, the best first. */
  readonly most: number;
  /** By place of the wanted triad, as bits: these must be complete somewhere. */
  readonly mustHave: number;
  readonly watch: ChordWatch;
  /** What the best has first: most different triads, then most places of them, then least moved; or least moved before both. */
  readonly first: "chords" | "least moved";
}

/** A layout that covers all notes. */
export interface Covering {
  readonly holes: readonly HoleChoice[];
  readonly moved: number;
  /** Wanted triads it has, as bits, and on how many places. */
  readonly triads: number;
  readonly places: number;
}

export interface FoundCoverings {
  /** In the order of the goal. */
  readonly best: readonly Covering[];
  /** False where some ways were left out, see `MOST_WAYS`. */
  readonly proved: boolean;
}

/** Most ways kept at one border; beyond it the best so far are kept. */
export const MOST_WAYS = 60_000;

interface Way {
  readonly before: Way | null;
  readonly choice: HoleChoice | null;
  readonly covered: number;
  readonly changed: number;
  readonly moved: number;
  readonly places: number;
  readonly heard: Heard;
}

/**
 * The best layouts with exactly so many changes. Goes through the holes once and keeps, of ways that go on alike, the best
 * few; a way that cannot be finished, by the table, is not begun. Exact while no border has more than `MOST_WAYS` ways.
 */
export function* bestCoverings(
  steps: readonly HoleStep[],
  table: CoverageTable,
  goal: CoverageGoal,
): Generator<Progress, FoundCoverings> {
  const heard = NOTHING_HEARD(goal.watch);
  let ways: readonly Way[] = [
    { before: null, choice: null, covered: 0, changed: 0, moved: 0, places: 0, heard },
  ];
  const better = goal.first === "chords" ? moreChords : lessMoved;
  let proved = true;
  for (const [hole, step] of steps.entries()) {
    const kept = new Map<string, Way[]>();
    for (const [number, way] of ways.entries()) {
      if (number % TRIES_A_STEP === 0) yield { done: hole, of: steps.length };
      for (const next of onward(step, table, goal, hole, way)) keepBest(kept, next, goal.most, better);
    }
    const all = [...kept.values()].flat();
    proved &&= all.length <= MOST_WAYS;
    ways = all.length <= MOST_WAYS ? all : all.sort(better).slice(0, MOST_WAYS);
  }
  const done = ways.filter(({ heard: { triads } }) => (triads & goal.mustHave) === goal.mustHave);
  return { best: [...done].sort(better).slice(0, goal.most).map(coveringOf), proved };
}

function* onward(
  step: HoleStep,
  table: CoverageTable,
  goal: CoverageGoal,
  hole: number,
  way: Way,
): Generator<Way> {
  const carried = carriedOver(step, way.covered);
  for (const group of step.groups) {
    if (!isDone(step, way.covered, group)) continue;
    const covered = carried | group.adds;
    for (const place of group.choices) {
      const choice = step.choices[place];
      if (choice === undefined) continue;
      const changed = way.changed + choice.changed;
      const left = goal.changed - changed;
      if (left < 0 || table.leastMoved(hole + 1, covered, left) === Number.POSITIVE_INFINITY) continue;
      const found = hearHole(goal.watch, way.heard, hole, choice);
      if (found === null) continue;
      const { heard, places } = found;
      yield {
        before: way,
        choice,
        covered,
        changed,
        moved: way.moved + choice.moved,
        places: way.places + places,
        heard,
      };
    }
  }
}

type Better = (one: Way, other: Way) => number;

const moreChords: Better = (one, other) => chordsOf(one, other) || one.moved - other.moved;
const lessMoved: Better = (one, other) => one.moved - other.moved || chordsOf(one, other);

const chordsOf: Better = (one, other) =>
  countBits(other.heard.triads) - countBits(one.heard.triads) || other.places - one.places;

/** Of ways that go on alike only the best few can become one of the best few. */
function keepBest(kept: Map<string, Way[]>, way: Way, most: number, better: Better): void {
  const key = `${way.covered}|${way.changed}|${heardKey(way.heard)}`;
  const alike = kept.get(key);
  if (alike === undefined) {
    kept.set(key, [way]);
    return;
  }
  const place = alike.findIndex((one) => better(way, one) < 0);
  if (place >= 0) alike.splice(place, 0, way);
  else alike.push(way);
  if (alike.length > most) alike.pop();
}

function coveringOf(way: Way): Covering {
  const holes: HoleChoice[] = [];
  for (let at: Way | null = way; at !== null; at = at.before) if (at.choice !== null) holes.push(at.choice);
  return { holes: holes.reverse(), moved: way.moved, triads: way.heard.triads, places: way.places };
}
