import type { Harp } from "../../instrument/harp.ts";
import type { Layout } from "../../instrument/layout.ts";
import type { Abilities } from "../../instrument/reed-actions.ts";
import { breathPath } from "../../path/breath-path.ts";
import { LiesOf, OCTAVE_SHIFTS, placesOf } from "../../path/lies.ts";
import { type Line, lineOfTune, shiftLine } from "../../path/line.ts";
import { type LineSummary, summaryOf } from "../../path/line-summary.ts";
import type { Progress } from "../../path/long-work.ts";
import type { Weights } from "../../path/weights.ts";
import { pitchClass } from "../../pitch/note-names.ts";
import type { Tune } from "../../tune/tune.ts";

/** A tune and how much it counts, more than 0; 1 is as much as any other. */
export interface WeighedTune {
  readonly tune: Tune;
  readonly weight: number;
}

/** What tunes are played on and how: the same for every layout compared. */
export interface TuneSetting {
  /** Harps whose keys and registers come into question; their layout is replaced. */
  readonly harps: readonly Harp[];
  readonly abilities: Abilities;
  readonly weights: Weights;
}

/** How a repertoire lies on a layout, each tune in the key and octave it lies best in; all counts times the tunes' weights. */
export interface RepertoireFit {
  /** Notes that no reed sounds plainly: bent, overblown or missing. */
  readonly notPlain: number;
  /** Of these the ones that cannot be sounded at all. */
  readonly missing: number;
  /** Cost of the cheapest breath paths in efforts, or what they cost at least, and `missingEffort` for each missing note. */
  readonly effort: number;
  /** False where `effort` is what the paths cost at least. */
  readonly isExact: boolean;
  /** By tune, the number of its lie in `placesOf`. */
  readonly lies: readonly Lie[];
}

/** Where a tune lies: the key note as if the tune were not moved. */
export interface Lie {
  readonly keyNote: number;
  readonly harp: Harp;
  readonly shift: number;
}

/** A missing note costs as much as the hardest there is in the greatest hurry: leaving one out is no way to save effort. */
export const missingEffort = (weights: Weights): number =>
  weights.mostHurry * Math.max(weights.overblow, weights.overdraw, weights.bend + 2 * weights.bendFurther);

interface Prepared {
  readonly line: Line;
  readonly summary: LineSummary;
  readonly weight: number;
  /** Pitch class of the major scale that holds most of its notes. */
  readonly major: number;
}

/** Tunes made ready to be laid on many layouts. */
export class Repertoire {
  private constructor(
    readonly tunes: readonly Prepared[],
    readonly setting: TuneSetting,
  ) {}

  static *of(tunes: readonly WeighedTune[], setting: TuneSetting): Generator<Progress, Repertoire> {
    const prepared: Prepared[] = [];
    for (const { tune, weight } of tunes) {
      const line = lineOfTune(tune, { alike: "nothing" });
      const summary = summaryOf(line, setting.weights);
      if (line.length > 0) prepared.push({ line, summary, weight, major: majorOf(summary) });
      yield { done: prepared.length, of: tunes.length };
    }
    return new Repertoire(prepared, setting);
  }

  /** Notes of all tunes, times their weights. */
  get notes(): number {
    return this.tunes.reduce((sum, { line, weight }) => sum + weight * line.length, 0);
  }

  /**
   * How the repertoire lies on a layout at least: each tune where fewest notes are missing, then fewest not plain, then the
   * bound of the cost is least; as written before moved by an octave.
   *
   * @param above semitones above the key note: only where the major scale of the tune begins there, if it can be laid so; null
   *              for anywhere
   */
  *glance(layout: Layout, above: number | null = null): Generator<Progress, RepertoireFit> {
    const { harps, abilities, weights } = this.setting;
    const lies = new LiesOf(abilities, weights);
    const places = placesOf(
      harps.map((harp) => ({ ...harp, layout })),
      OCTAVE_SHIFTS,
      lies,
    );
    const sums = { notPlain: 0, missing: 0, effort: 0 };
    const found: Lie[] = [];
    for (const { summary, weight, major } of this.tunes) {
      const there =
        above === null ? [] : lies.all.filter(({ keyNote }) => pitchClass(keyNote + above - major) === 0);
      let best = { missing: Number.POSITIVE_INFINITY, notPlain: 0, cost: 0, first: 0 };
      for (const { costs, keyNote, first } of there.length > 0 ? there : lies.all) {
        const { bent, overblown, missing } = costs.shares(summary, keyNote);
        const notPlain = bent + overblown + missing;
        if (missing > best.missing || (missing === best.missing && notPlain > best.notPlain)) continue;
        const { cost } = costs.bound(summary, keyNote);
        if (missing === best.missing && notPlain === best.notPlain && cost >= best.cost) continue;
        best = { missing, notPlain, cost, first };
      }
      const place = places[best.first];
      if (place === undefined) throw new RangeError("a repertoire needs a harp to lie on");
      found.push({ keyNote: place.harp.keyNote - place.shift, harp: place.harp, shift: place.shift });
      sums.notPlain += weight * best.notPlain;
      sums.missing += weight * best.missing;
      sums.effort += weight * (best.cost + best.missing * missingEffort(weights));
      yield { done: found.length, of: this.tunes.length };
    }
    return { ...sums, isExact: false, lies: found };
  }

  /** The same with what the cheapest breath paths really cost. */
  *fit(layout: Layout): Generator<Progress, RepertoireFit> {
    const { abilities, weights } = this.setting;
    const glance = yield* this.glance(layout);
    let effort = glance.missing * missingEffort(weights);
    for (const [place, { line, weight }] of this.tunes.entries()) {
      const lie = glance.lies[place];
      if (lie === undefined) continue;
      effort += weight * breathPath(shiftLine(line, lie.shift), lie.harp, { abilities, weights }).cost;
      yield { done: place + 1, of: this.tunes.length };
    }
    return { ...glance, effort, isExact: true };
  }
}

const MAJOR = [0, 2, 4, 5, 7, 9, 11];

function majorOf({ pitches, counts }: LineSummary): number {
  const held = Array.from({ length: 12 }, (_, home) => {
    let sum = 0;
    for (let place = 0; place < pitches.length; place++)
      if (MAJOR.includes(pitchClass((pitches[place] ?? 0) - home))) sum += counts[place] ?? 0;
    return sum;
  });
  return held.indexOf(Math.max(...held));
}
