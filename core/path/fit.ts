import { type Harp, type Register, registerOf } from "../instrument/harp.ts";
import { type Position, positionOfHome } from "../instrument/positions.ts";
import { pitchClassOfName } from "../pitch/note-names.ts";
import type { Tune } from "../tune/tune.ts";
import { abilitiesOf, breathPath, type PathOptions, weightsOf } from "./breath-path.ts";
import type { CostBound, NoteShares } from "./layout-costs.ts";
import { type Lie, LiesOf, OCTAVE_SHIFTS, type Place, placesOf } from "./lies.ts";
import { type Alike, type Line, lineOfTune, shiftLine } from "./line.ts";
import { type LineSummary, summaryOf } from "./line-summary.ts";
import type { Progress } from "./long-work.ts";

/** How a tune lies on one harp, moved by so many octaves. */
export interface Fit extends NoteShares {
  readonly harp: Harp;
  readonly register: Register;
  /** Semitones the tune is moved up: 0, 12, -12 ... */
  readonly shift: number;
  /** From the tune's tonic; null where the tune has none that is a note's name. */
  readonly position: Position | null;
  /** In efforts, of the notes that are not missing. */
  readonly cost: number;
  /** True where `cost` is that of the cheapest path; else that path costs at least so much. */
  readonly exact: boolean;
}

export interface FitOptions extends Omit<PathOptions, "pins"> {
  /** Written pitch, an octave down and an octave up where absent. */
  readonly shifts?: readonly number[];
  readonly alike?: Alike;
  /** How many of the best are worked out exactly; 5 where absent. */
  readonly best?: number;
}

const BEST = 5;

/**
 * Fits tunes to harps. Which notes are plain, bent, overblown or missing follows from the tune's pitches alone; so does a
 * lower bound of the cost, each move at its cheapest. Whole paths are worked out from the lowest bound up, until no bound
 * left is below the best found: the best are exactly the best.
 */
export class Fitter {
  private readonly places: readonly Place[];
  private readonly lies: readonly Lie[];
  private readonly most: number;

  constructor(
    readonly harps: readonly Harp[],
    private readonly options: FitOptions = {},
  ) {
    const lies = new LiesOf(abilitiesOf(options), weightsOf(options));
    this.places = placesOf(harps, options.shifts ?? OCTAVE_SHIFTS, lies);
    this.lies = lies.all;
    this.most = options.best ?? BEST;
  }

  /** Every harp with every shift: fewest missing notes first, then cheapest; the best ones exact. */
  all(tune: Tune): readonly Fit[] {
    const line = this.line(tune);
    const summary = summaryOf(line, weightsOf(this.options));
    const shares = this.sharesOf(summary);
    const bounds = this.lies.map((lie) => lie.costs.bound(summary, lie.keyNote));
    const placed = this.places.flatMap((place): readonly Placed[] => {
      const [its, bound] = [shares[place.lie], bounds[place.lie]];
      return its === undefined || bound === undefined ? [] : [{ ...place, shares: its, bound }];
    });
    return this.inWords(tune, this.settleBest(line, placed));
  }

  /** The best alone. Of those that take the same moves, as a low harp an octave down does, one is kept. */
  best(tune: Tune): readonly Fit[] {
    return this.bestAndShares(tune).best;
  }

  /** The best, and for every harp whether it plays the tune, and without bends. */
  bestAndShares(tune: Tune): { readonly best: readonly Fit[]; readonly harps: readonly HarpPlays[] } {
    const line = this.line(tune);
    const summary = summaryOf(line, weightsOf(this.options));
    const shares = this.sharesOf(summary);
    const placed = this.settleBest(line, this.worthSettling(summary, shares));
    const harps = this.harps.map((_, number) => {
      let [playable, plain] = [false, false];
      for (let place = number; place < this.places.length; place += this.harps.length) {
        const its = shares[this.places[place]?.lie ?? -1];
        playable ||= its?.missing === 0;
        plain ||= its?.plain === summary.notes;
      }
      return { playable, plain };
    });
    return { best: this.inWords(tune, placed.slice(0, this.most)), harps };
  }

  private sharesOf(summary: LineSummary): readonly NoteShares[] {
    return this.lies.map((lie) => lie.costs.shares(summary, lie.keyNote));
  }

  /** One place for each way the tune can lie, leaving out those that so many others miss fewer notes than. */
  private worthSettling(summary: LineSummary, shares: readonly NoteShares[]): readonly Placed[] {
    const leastMissing = shares.map((one) => one.missing).sort((one, other) => one - other);
    const mostMissing = leastMissing[Math.min(this.most, leastMissing.length) - 1] ?? -1;
    return this.lies.flatMap(({ costs, keyNote, first }, lie): readonly Placed[] => {
      const [place, its] = [this.places[first], shares[lie]];
      if (place === undefined || its === undefined || its.missing > mostMissing) return [];
      return [{ ...place, shares: its, bound: costs.bound(summary, keyNote) }];
    });
  }

  /** Replaces bounds by costs from the front on, until the first ones can no longer change. */
  private settleBest(line: Line, unsorted: readonly Placed[]): readonly Placed[] {
    const placed = unsorted.toSorted(byMerit);
    const settled: Placed[] = [];
    let next = 0;
    for (; next < placed.length && this.most > 0; next++) {
      const one = placed[next];
      const last = settled[this.most - 1];
      if (one === undefined || (last !== undefined && byMerit(last, one) <= 0)) break;
      insert(settled, one.bound.exact ? one : this.settle(line, one));
    }
    return [...settled, ...placed.slice(next)].sort(byMerit);
  }

  private settle(line: Line, placed: Placed): Placed {
    const { cost } = breathPath(shiftLine(line, placed.shift), placed.harp, this.options);
    return { ...placed, bound: { cost, exact: true } };
  }

  private line(tune: Tune): Line {
    const { alike } = this.options;
    return lineOfTune(tune, alike === undefined ? {} : { alike });
  }

  private inWords(tune: Tune, placed: readonly Placed[]): readonly Fit[] {
    const home = pitchClassOfName(tune.key.tonic);
    return placed.map(({ harp, shift, shares, bound }) => ({
      ...shares,
      ...bound,
      harp,
      register: registerOf(harp),
      shift,
      position: home === null ? null : positionOfHome(harp, home),
    }));
  }
}

interface Placed extends Place {
  readonly shares: NoteShares;
  readonly bound: CostBound;
}

const byMerit = (one: Placed, other: Placed): number =>
  one.shares.missing - other.shares.missing || one.bound.cost - other.bound.cost;

/** Puts one into a sorted row, after its equals. */
function insert(row: Placed[], one: Placed): void {
  const place = row.findIndex((other) => byMerit(other, one) > 0);
  row.splice(place < 0 ? row.length : place, 0, one);
}

/** Whether a harp plays a tune in some octave without a missing note, and without bends and overblows as well. */
export interface HarpPlays {
  readonly playable: boolean;
  readonly plain: boolean;
}

/** How many tunes a harp plays without a missing note, in some octave, and how many of them without bends. */
export interface HarpShare {
  readonly harp: Harp;
  readonly playable: number;
  readonly plain: number;
}

export interface FitReport {
  /** By tune, the best first. */
  readonly best: readonly (readonly Fit[])[];
  readonly harps: readonly HarpShare[];
}

/** Fits every tune, one a step. */
export function* fitTunes(
  tunes: readonly Tune[],
  harps: readonly Harp[],
  options: FitOptions = {},
): Generator<Progress, FitReport> {
  const fitter = new Fitter(harps, options);
  const best: (readonly Fit[])[] = [];
  const playable = harps.map(() => 0);
  const plain = harps.map(() => 0);
  for (const [index, tune] of tunes.entries()) {
    const found = fitter.bestAndShares(tune);
    best.push(found.best);
    for (const [place, plays] of found.harps.entries()) {
      if (plays.playable) playable[place] = (playable[place] ?? 0) + 1;
      if (plays.plain) plain[place] = (plain[place] ?? 0) + 1;
    }
    yield { done: index + 1, of: tunes.length };
  }
  return {
    best,
    harps: harps.map((harp, place) => ({ harp, playable: playable[place] ?? 0, plain: plain[place] ?? 0 })),
  };
}
