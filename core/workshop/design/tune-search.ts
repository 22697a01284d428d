import type { Layout } from "../../instrument/layout.ts";
import type { Progress } from "../../path/long-work.ts";
import { changedOf, isAllowed, movedOf, type WholeLimits } from "./allowed.ts";
import { type Aim, type Candidate, Descent, worth } from "./descend.ts";
import type { HoleChoice } from "./hole-choices.ts";
import { layoutOfHoles } from "./layout-of-holes.ts";
import { Efforts } from "./load-cost.ts";
import type { Repertoire } from "./repertoire.ts";
import { tuneLoad } from "./tune-load.ts";

export interface TuneProblem {
  readonly repertoire: Repertoire;
  readonly whole: WholeLimits;
  /** For each hole every choice within its own limits, unchanged first. */
  readonly choices: readonly (readonly HoleChoice[])[];
  /** Layouts to begin from, allowed; the search gives none that is worse than the best of them. */
  readonly seeds: readonly (readonly HoleChoice[])[];
  /** Numbers from 0 up to 1: the same row gives the same layouts. */
  readonly random: () => number;
  /** About how many layouts are tried. */
  readonly tries: number;
}

/** What the search has found so far. */
export interface Running {
  readonly layout: Layout;
  readonly changed: number;
  readonly notPlain: number;
}

export interface SearchProgress extends Progress {
  readonly best: Running | null;
}

/** More than all effort there is. */
const BEFORE_ALL = 10_000;
/** Twice what a bend by a semitone costs. A starting point, no source. */
const SOME = 3;
/** From missing and bent notes before everything to effort alone; a missing note costs effort in all of them. */
const AIMS: readonly Aim[] = [
  { notPlainEffort: BEFORE_ALL, missingEffort: 0 },
  { notPlainEffort: BEFORE_ALL, missingEffort: 10 * BEFORE_ALL },
  { notPlainEffort: SOME, missingEffort: 10 * BEFORE_ALL },
  { notPlainEffort: SOME, missingEffort: 0 },
  { notPlainEffort: 0, missingEffort: 10 * BEFORE_ALL },
  { notPlainEffort: 0, missingEffort: 0 },
];
/** By which aim the tunes are laid anew. */
const MIDDLE_AIM = AIMS[2];
/** How often the tunes are laid anew on what was found: in other keys other layouts are good. */
const ROUNDS = 3;
/** Holes tuned at random before a walk begins again. */
const SHAKEN_HOLES = 3;

/**
 * Layouts good for a repertoire for every number of changed reeds: walks downhill, shaken and begun again (iterated local
 * search; Lourenco, Martin and Stutzle, Handbook of Metaheuristics, 2003), with the tunes laid anew between the rounds.
 * Not exact; the same random numbers give the same layouts, and every seed is among what is given back.
 */
export function* searchLayouts(
  problem: TuneProblem,
): Generator<SearchProgress, readonly (readonly HoleChoice[])[]> {
  const { repertoire, choices, whole, seeds } = problem;
  const { abilities, weights } = repertoire.setting;
  const efforts = new Efforts(whole.start, abilities, weights);
  const found = new Map<string, readonly HoleChoice[]>();
  const keep = (holes: readonly HoleChoice[]) => found.set(keyOf(holes), holes);
  for (const seed of seeds) keep(seed);
  let best: Running | null = null;
  let laidOn = seeds[0] ?? choices.flatMap(([first]) => first ?? []);
  for (let round = 0; round < ROUNDS; round++) {
    const { lies } = yield* told(repertoire.glance(layoutOfHoles(whole.start, laidOn)), best, round);
    const load = tuneLoad(
      repertoire.tunes,
      lies.map(({ keyNote }) => keyNote),
    );
    const descent = new Descent(load, efforts, choices);
    for (const walk of walksOf(problem)) {
      const candidate = yield* walked(problem, descent, walk, [...found.values()], (share) => ({
        done: Math.round(1000 * ((round + walk.share + share * walk.part) / ROUNDS)),
        of: 1000,
        best,
      }));
      keep(candidate.holes);
      best = better(best, candidate, whole.start);
      laidOn = laidNext(laidOn, candidate, walk);
    }
  }
  return [...found.values()];
}

/** One number of changes and one aim. */
interface Walk {
  readonly mostChanged: number;
  readonly aim: Aim;
  /** Where it begins among all walks of a round, and how much of it it is, 0..1. */
  readonly share: number;
  readonly part: number;
}

function walksOf({ whole, seeds }: TuneProblem): readonly Walk[] {
  const fewest = Math.min(...seeds.map(changedOf));
  const counts = Array.from({ length: whole.mostChanged - fewest + 1 }, (_, more) => fewest + more);
  const walks = counts.flatMap((mostChanged) => AIMS.map((aim) => ({ mostChanged, aim })));
  const part = 1 / walks.length;
  return walks.map((walk, place) => ({ ...walk, share: place * part, part }));
}

function* walked(
  problem: TuneProblem,
  descent: Descent,
  { mostChanged, aim, part }: Walk,
  known: readonly (readonly HoleChoice[])[],
  progress: (share: number) => SearchProgress,
): Generator<SearchProgress, Candidate> {
  const whole = { ...problem.whole, mostChanged };
  const most = (problem.tries * part) / ROUNDS;
  const before = descent.tries;
  const spent = () => (descent.tries - before) / most;
  let best: Candidate | null = null;
  // Every walk of a smaller number of changes is a start for this one as well.
  for (const start of known.filter((holes) => isAllowed(holes, whole)).slice(-STARTS)) {
    if (best !== null && spent() > 0.5) break;
    best = lower(
      best,
      yield* onward(descent.down(start, whole, aim), () => progress(Math.min(1, spent()))),
      aim,
    );
  }
  if (best === null) throw new RangeError("a search needs a layout that is allowed to begin with");
  for (let idle = 0; spent() < 1 && idle < MOST_IDLE; idle++) {
    const from: readonly HoleChoice[] = shaken(best.holes, problem, whole);
    const next: Candidate = yield* onward(descent.down(from, whole, aim), () =>
      progress(Math.min(1, spent())),
    );
    if (worth(next.cost, aim) < worth(best.cost, aim)) idle = 0;
    best = lower(best, next, aim);
  }
  return best;
}

/** Known layouts a walk begins from. */
const STARTS = 4;
/** Walks begun again without a gain before the search goes on. */
const MOST_IDLE = 12;

const lower = (one: Candidate | null, other: Candidate, aim: Aim): Candidate =>
  one === null || worth(other.cost, aim) < worth(one.cost, aim) ? other : one;

/** Some holes tuned at random, as far as it is allowed. */
function shaken(
  holes: readonly HoleChoice[],
  { choices, random }: TuneProblem,
  whole: WholeLimits,
): readonly HoleChoice[] {
  const shaking = [...holes];
  for (let time = 0; time < SHAKEN_HOLES; time++) {
    const hole = Math.floor(random() * holes.length);
    const its = choices[hole] ?? [];
    const before = shaking[hole];
    const choice = its[Math.floor(random() * its.length)];
    if (before === undefined || choice === undefined) continue;
    shaking[hole] = choice;
    if (changedOf(shaking) > whole.mostChanged) putOneBack(shaking, choices, hole, random);
    if (!isAllowed(shaking, whole)) shaking.splice(0, shaking.length, ...holes);
  }
  return shaking;
}

/** Another changed hole goes back to what it was. */
function putOneBack(
  holes: HoleChoice[],
  choices: readonly (readonly HoleChoice[])[],
  not: number,
  random: () => number,
): void {
  const changed = [...holes.keys()].filter((hole) => hole !== not && (holes[hole]?.changed ?? 0) > 0);
  const hole = changed[Math.floor(random() * changed.length)];
  const back = hole === undefined ? undefined : choices[hole]?.[0];
  if (hole !== undefined && back !== undefined) holes[hole] = back;
}

function* onward<T>(work: Generator<void, T>, progress: () => SearchProgress): Generator<SearchProgress, T> {
  for (let step = work.next(); ; step = work.next()) {
    yield progress();
    if (step.done === true) return step.value;
  }
}

function* told<T>(
  work: Generator<Progress, T>,
  best: Running | null,
  round: number,
): Generator<SearchProgress, T> {
  for (let step = work.next(); ; step = work.next()) {
    if (step.done === true) return step.value;
    yield { done: Math.round((1000 * round) / ROUNDS), of: 1000, best };
  }
}

function better(best: Running | null, { holes, cost }: Candidate, start: Layout): Running {
  if (best !== null && best.notPlain <= cost.notPlain) return best;
  return { layout: layoutOfHoles(start, holes), changed: changedOf(holes), notPlain: cost.notPlain };
}

/** The next round lays the tunes on what has fewest bent notes with about half the changes: the whole line gains from it. */
function laidNext(
  now: readonly HoleChoice[],
  { holes }: Candidate,
  { share, aim }: Walk,
): readonly HoleChoice[] {
  return share <= 0.5 && aim === MIDDLE_AIM ? holes : now;
}

/** One text for each layout. */
export const keyOf = (holes: readonly HoleChoice[]): string =>
  `${movedOf(holes)} ${holes.map(({ blow, draw }) => `${blow}/${draw}`).join(" ")}`;
