import type { Progress } from "../../path/long-work.ts";
import type { WholeLimits } from "./allowed.ts";
import { Book, type Known, type Running } from "./book.ts";
import { Descent, worth } from "./descend.ts";
import type { HoleChoice } from "./hole-choices.ts";
import { Efforts } from "./load-cost.ts";
import type { Lie, Repertoire } from "./repertoire.ts";
import { shaken } from "./shake.ts";
import { tuneLoad } from "./tune-load.ts";
import { SEARCH_ROUNDS, type Walk, walksOf } from "./walks.ts";

export interface TuneProblem {
  readonly repertoire: Repertoire;
  readonly whole: WholeLimits;
  /** For each hole every choice within its own limits, unchanged first. */
  readonly choices: readonly (readonly HoleChoice[])[];
  /** Layouts to begin from, one or more, all allowed. */
  readonly seeds: readonly (readonly HoleChoice[])[];
  /** Numbers from 0 up to 1: the same row gives the same layouts. */
  readonly random: () => number;
  /** About how many layouts are tried. */
  readonly tries: number;
}

export interface SearchProgress extends Progress {
  readonly best: Running | null;
}

/** Known layouts a walk begins from: so many within the limits and so many with more changes, trimmed. */
const STARTS = 2;
/** Shakes without a gain before the search goes on. */
const MOST_IDLE = 30;
/** How often the tunes are laid anew on what a descent found, as long as that helps. */
const MOST_SETTLING = 4;
/** Laying a tune anew takes about as long as so many tries. */
const TRIES_A_TUNE = 3;
/** Progress is told in thousandths. */
const WHOLE = 1000;

/**
 * Layouts good for a repertoire, for every number of changed reeds and several aims: walks downhill, shaken and begun again
 * (iterated local search; Lourenco, Martin and Stutzle, Handbook of Metaheuristics, 2003). On the way down every tune stays in
 * its key and octave; then all are laid anew where they lie best, and it goes on down from there, as long as that helps: what
 * counts is how they lie then. Not exact; the same random numbers give the same layouts, and every seed is among what is given
 * back.
 */
export function* searchLayouts(problem: TuneProblem): Generator<SearchProgress, readonly Known[]> {
  const { repertoire, whole, seeds } = problem;
  const book = new Book(repertoire, whole);
  const rounds = SEARCH_ROUNDS.length;
  for (const seed of seeds) yield* told(book.enter(seed), () => ({ done: 0, of: WHOLE, best: book.best }));
  for (const [round, { above, aims }] of SEARCH_ROUNDS.entries())
    for (const walk of walksOf(aims, seeds, whole.mostChanged)) {
      const walker = new Walker(problem, book, walk, above);
      yield* told(walker.run(), () => ({
        done: Math.round((WHOLE * (round + walk.share + walk.part * walker.spent)) / rounds),
        of: WHOLE,
        best: book.best,
      }));
    }
  return book.all;
}

/** Work of any kind, with how far the search is. */
function* told<T>(work: Generator<unknown, T>, progress: () => SearchProgress): Generator<SearchProgress, T> {
  for (let step = work.next(); ; step = work.next()) {
    if (step.done === true) return step.value;
    yield progress();
  }
}

/** One walk: everything it finds goes into the book. */
class Walker {
  private tries = 0;
  private readonly most: number;
  private readonly glancesBefore: number;
  private readonly whole: WholeLimits;
  private readonly efforts: Efforts;

  constructor(
    private readonly problem: TuneProblem,
    private readonly book: Book,
    private readonly walk: Walk,
    /** See `Round`. */
    private readonly above: number | null,
  ) {
    const { repertoire, whole, tries } = problem;
    const { abilities, weights } = repertoire.setting;
    this.efforts = new Efforts(whole.start, abilities, weights);
    this.whole = { ...whole, mostChanged: walk.mostChanged };
    this.most = (tries * walk.part) / SEARCH_ROUNDS.length;
    this.glancesBefore = book.glances;
  }

  /** Share of the tries this walk has, 0..1; laying the tunes counts too. */
  get spent(): number {
    const glances = this.book.glances - this.glancesBefore;
    const tries = this.tries + glances * TRIES_A_TUNE * this.problem.repertoire.tunes.length;
    return Math.min(1, tries / this.most);
  }

  *run(): Generator<unknown, void> {
    const { aim } = this.walk;
    const starts = this.book.bestFor(aim, this.whole, STARTS);
    const larger = this.book.largerFor(aim, this.whole, STARTS);
    let best: Known | null = null;
    for (let place = 0; place < STARTS; place++) {
      const start = starts[place];
      const trimmed = larger[place];
      if (place > 0 && this.spent === 1) break;
      if (start !== undefined)
        best = this.better(best, yield* this.settle(start.holes, yield* this.lies(start)));
      if (trimmed === undefined) continue;
      const lies = yield* this.lies(trimmed);
      const holes = this.descent(lies).trimmed(trimmed.holes, this.whole, aim);
      if (holes !== null) best = this.better(best, yield* this.settle(holes, lies));
    }
    if (best !== null) yield* this.shake(best);
  }

  private *shake(from: Known): Generator<unknown, void> {
    const { choices, random } = this.problem;
    let best = from;
    for (let idle = 0; this.spent < 1 && idle < MOST_IDLE; idle++) {
      const holes = shaken(best.holes, choices, random, this.whole);
      const next: Known = yield* this.settle(holes, best.fit.lies);
      if (this.worthOf(next) < this.worthOf(best)) idle = 0;
      best = this.better(best, next);
    }
  }

  /** Down, the tunes laid anew, down again, as long as it helps. */
  private *settle(from: readonly HoleChoice[], firstLies: readonly Lie[]): Generator<unknown, Known> {
    let lies = firstLies;
    let best: Known | null = null;
    let holes = from;
    for (let time = 0; time < MOST_SETTLING; time++) {
      const descent = this.descent(lies);
      const before = descent.tries;
      const { holes: found } = yield* descent.down(holes, this.whole, this.walk.aim);
      this.tries += descent.tries - before;
      const known: Known = yield* this.book.enter(found);
      if (best !== null && this.worthOf(known) >= this.worthOf(best)) return best;
      best = known;
      holes = known.holes;
      lies = known.fit.lies;
    }
    return best ?? (yield* this.book.enter(holes));
  }

  private *lies(start: Known): Generator<unknown, readonly Lie[]> {
    return yield* this.book.liesOn(start, this.above);
  }

  private descent(lies: readonly Lie[]): Descent {
    const load = tuneLoad(
      this.problem.repertoire.tunes,
      lies.map(({ keyNote }) => keyNote),
    );
    return new Descent(load, this.efforts, this.problem.choices);
  }

  private worthOf({ fit }: Known): number {
    return worth(fit, this.walk.aim);
  }

  private better(one: Known | null, other: Known): Known {
    return one === null || this.worthOf(other) < this.worthOf(one) ? other : one;
  }
}
