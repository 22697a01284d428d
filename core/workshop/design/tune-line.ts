import type { Layout } from "../../instrument/layout.ts";
import { STOCK_LAYOUTS } from "../../instrument/stock-layouts.ts";
import type { Progress } from "../../path/long-work.ts";
import { changedOf, isAllowed, movedOf, type WholeLimits } from "./allowed.ts";
import type { Known, Running } from "./book.ts";
import { coverLine } from "./cover-design.ts";
import { ANY_NOTE, type HoleChoice, holeChoices } from "./hole-choices.ts";
import { layoutOfHoles } from "./layout-of-holes.ts";
import { Repertoire, type RepertoireFit, type TuneSetting, type WeighedTune } from "./repertoire.ts";
import { triadsToHave } from "./triads-wanted.ts";
import { type SearchProgress, searchLayouts } from "./tune-search.ts";
import { type DesignWish, wantedNotes } from "./wish.ts";

/** The tunes a layout is to suit, and how hard to look. */
export interface DesignTunes {
  /** One or more. */
  readonly tunes: readonly WeighedTune[];
  readonly setting: TuneSetting;
  /** Numbers from 0 up to 1. */
  readonly random: () => number;
  /** Layouts tried; `USUAL_TRIES` where absent. */
  readonly tries?: number;
}

export const USUAL_TRIES = 1_000_000;
/** More changes than this are looked at only where the limits name a number. */
export const USUAL_MOST_CHANGED = 10;
/** Points of the line; each is worked out by breath paths. */
const MOST_POINTS = 16;

export interface TunePoint {
  readonly layout: Layout;
  readonly changed: number;
  /** Semitones moved by all changes together. */
  readonly moved: number;
  readonly fit: RepertoireFit;
}

export type TuneLine =
  | {
      readonly kind: "line";
      /** Notes of all tunes times their weights. */
      readonly notes: number;
      /** How they lie on the layout begun with, whether it keeps the limits or not. */
      readonly start: RepertoireFit;
      /**
       * Layouts none of which is beaten: another that changes no more reeds, moves them no further, leaves no more notes not
       * plain and none more missing, and costs no more effort, is the same in all five. Fewest changes first. The start is among them, or beaten. None
       * leaves more notes missing than the start, unless every layout within the limits does.
       */
      readonly points: readonly TunePoint[];
      /** How they lie on the layouts of the catalogue; efforts are what the paths cost at least. */
      readonly catalogue: readonly { readonly layout: Layout; readonly fit: RepertoireFit }[];
    }
  | { readonly kind: "impossible" }
  | { readonly kind: "too many ways" }
  | { readonly kind: "no notes" };

/**
 * The trade-off line of a repertoire: reeds changed and how far, notes that still are not plain, and effort of the breath paths
 * at each tune's tempo. Scales of the wish stay complete on every point.
 *
 * @param wish without faults
 */
export function* tuneLine(wish: DesignWish, asked: DesignTunes): Generator<SearchProgress, TuneLine> {
  const stage = stages();
  const repertoire = yield* stage(Repertoire.of(asked.tunes, asked.setting), 0.02);
  if (repertoire.notes === 0) return { kind: "no notes" };
  const start = wish.harp.layout;
  const atStart = yield* stage(repertoire.fit(start), 0.05);
  const covered = yield* stage(coverLine(wish, { most: 3 }), 0.1);
  if (covered.kind !== "line") return covered;
  const notes = wantedNotes(wish);
  const choices = holeChoices({ start, limits: wish.limits, notes: new Set(notes), alsoWorth: ANY_NOTE });
  const fewest = covered.points[0]?.changed ?? 0;
  const mostChanged = wish.limits.mostChanged ?? Math.max(USUAL_MOST_CHANGED, fewest);
  const whole: WholeLimits = { start, notes, triads: triadsToHave(wish), limits: wish.limits, mostChanged };
  const seeds = [...covered.points.flatMap(({ layouts }) => layouts), ...STOCK_LAYOUTS]
    .flatMap((layout) => holesOf(layout, choices))
    .filter((holes) => isAllowed(holes, whole));
  const { random, tries = USUAL_TRIES } = asked;
  const found = yield* stage(searchLayouts({ repertoire, whole, choices, seeds, random, tries }), 0.6);
  const points = yield* stage(bestOf(repertoire, start, found, atStart.missing), 0.97);
  const catalogue: { layout: Layout; fit: RepertoireFit }[] = [];
  for (const layout of STOCK_LAYOUTS)
    catalogue.push({ layout, fit: yield* stage(repertoire.glance(layout), 1) });
  return { kind: "line", notes: repertoire.notes, start: atStart, points, catalogue };
}

/** The choices a layout is made of, as a list of one; none where a hole of it is no choice. */
function holesOf(
  layout: Layout,
  choices: readonly (readonly HoleChoice[])[],
): readonly (readonly HoleChoice[])[] {
  if (layout.holes.length !== choices.length) return [];
  const holes = choices.flatMap((its, hole) => {
    const wanted = layout.holes[hole];
    return its.find(({ blow, draw }) => blow === wanted?.blow && draw === wanted.draw) ?? [];
  });
  return holes.length === choices.length ? [holes] : [];
}

function* bestOf(
  repertoire: Repertoire,
  start: Layout,
  found: readonly Known[],
  mostMissing: number,
): Generator<Progress, readonly TunePoint[]> {
  const glanced = found.map(({ holes, fit }) => ({
    layout: layoutOfHoles(start, holes),
    changed: changedOf(holes),
    moved: movedOf(holes),
    fit,
  }));
  // Leaving out more notes than the start does is no way to do without bends; only limits that the start breaks may ask for it.
  const fewer = glanced.filter(({ fit }) => fit.missing <= mostMissing);
  const some = fewPoints(unbeaten(fewer.length > 0 ? fewer : glanced));
  const exact: TunePoint[] = [];
  for (const [place, point] of some.entries()) {
    const fit = yield* at(repertoire.fit(point.layout), place, some.length);
    exact.push({ ...point, fit });
  }
  return unbeaten(exact);
}

/** A work as one place of many. */
function* at<T>(work: Generator<Progress, T>, done: number, of: number): Generator<Progress, T> {
  for (let step = work.next(); ; step = work.next()) {
    if (step.done === true) return step.value;
    yield { done, of };
  }
}

const figures = ({ changed, moved, fit }: TunePoint) => [
  changed,
  moved,
  fit.notPlain,
  fit.missing,
  fit.effort,
];
/** Sums of efforts in different order differ by rounding. */
const ROUNDING = 1e-6;

/** Points that no other beats, fewest changes first; of equal ones the first. */
export function unbeaten(points: readonly TunePoint[]): readonly TunePoint[] {
  const beats = (one: TunePoint, other: TunePoint) => {
    const [its, others] = [figures(one), figures(other)];
    return its.every((figure, place) => figure <= (others[place] ?? 0) + ROUNDING);
  };
  const kept: TunePoint[] = [];
  for (const point of [...points].sort(inOrder)) if (!kept.some((one) => beats(one, point))) kept.push(point);
  return kept;
}

const inOrder = (one: TunePoint, other: TunePoint): number => {
  const [its, others] = [figures(one), figures(other)];
  const place = its.findIndex((figure, index) => Math.abs(figure - (others[index] ?? 0)) > ROUNDING);
  return place < 0 ? 0 : (its[place] ?? 0) - (others[place] ?? 0);
};

/**
 * At most so many: those with fewest notes not plain and with least effort of all, and from the fewest changes on, of every
 * number of changes these two.
 */
function fewPoints(points: readonly TunePoint[]): readonly TunePoint[] {
  const extremes = (some: readonly TunePoint[]) =>
    [({ fit }: TunePoint) => fit.notPlain, ({ fit }: TunePoint) => fit.effort].flatMap((figure) =>
      some.length === 0 ? [] : some.reduce((best, next) => (figure(next) < figure(best) ? next : best)),
    );
  const counts = [...new Set(points.map(({ changed }) => changed))];
  const chosen = new Set([
    ...extremes(points),
    ...counts.flatMap((count) => extremes(points.filter(({ changed }) => changed === count))),
    ...points,
  ]);
  return [...chosen].slice(0, MOST_POINTS);
}

/** Several works in a row as one share of the whole, with what the search has found last. */
function stages() {
  let from = 0;
  let best: Running | null = null;
  function* run<T>(work: Generator<Progress | SearchProgress, T>, to: number): Generator<SearchProgress, T> {
    for (let step = work.next(); ; step = work.next()) {
      if (step.done === true) {
        from = to;
        return step.value;
      }
      const { done, of } = step.value;
      if ("best" in step.value) best = step.value.best;
      yield { done: Math.round(1000 * (from + ((to - from) * done) / Math.max(1, of))), of: 1000, best };
    }
  }
  return run;
}
