import { BREATHS, type Breath, type Hole, type Layout } from "../../instrument/layout.ts";
import { pitchClass } from "../../pitch/note-names.ts";
import type { Semitones } from "../../units.ts";

/** Which reed of a hole must be the higher one. */
export type HoleOrder = "free" | "draw higher" | "blow higher";
export const HOLE_ORDERS: readonly HoleOrder[] = ["free", "draw higher", "blow higher"];

/** How far one reed may move, in semitones, both 0 or more; a reed that must stay has 0 and 0. */
export interface ReedLimit {
  /** Counted from 1. */
  readonly hole: number;
  readonly breath: Breath;
  readonly up: number;
  readonly down: number;
}

/** Holes of one breath that must go on sounding the same note names together, whatever their order. */
export interface KeptChord {
  readonly breath: Breath;
  /** Counted from 1, ascending, two or more. */
  readonly holes: readonly number[];
}

/** A bend whose note must still be a bend of the same hole and breath, however deep. */
export interface KeptBend {
  readonly hole: number;
  readonly breath: Breath;
  /** On the layout begun with, 1 or more. */
  readonly bentSemitones: number;
}

/** What a design may do to the layout it begins with. */
export interface Limits {
  /** For every reed without a limit of its own: semitones up and down, 0 to 12. */
  readonly mostSemitones: number;
  readonly reeds: readonly ReedLimit[];
  /** For every hole, or for each, hole 1 first; a hole that lacks a reed has no order. */
  readonly order: HoleOrder | readonly HoleOrder[];
  /** Null where any number may be changed. */
  readonly mostChanged: number | null;
  readonly chords: readonly KeptChord[];
  readonly bends: readonly KeptBend[];
}

/** A whole tone is routine, more is better done by a swapped reed. Common practice. */
export const USUAL_MOST_SEMITONES = 2;
/** Beyond an octave a reed is another reed. */
export const LARGEST_MOST_SEMITONES = 12;

export const FIRST_LIMITS: Limits = {
  mostSemitones: USUAL_MOST_SEMITONES,
  reeds: [],
  order: "free",
  mostChanged: null,
  chords: [],
  bends: [],
};

/** How far a reed may move. */
export function rangeOf(limits: Limits, hole: number, breath: Breath): Pick<ReedLimit, "up" | "down"> {
  const own = limits.reeds.find((one) => one.hole === hole && one.breath === breath);
  return own ?? { up: limits.mostSemitones, down: limits.mostSemitones };
}

export function orderOf(limits: Limits, hole: number): HoleOrder {
  return typeof limits.order === "string" ? limits.order : (limits.order[hole - 1] ?? "free");
}

/** Whether a hole's reeds lie as asked; a hole with one reed always does. */
export function isInOrder(hole: Pick<Hole, Breath>, order: HoleOrder): boolean {
  if (order === "free" || hole.blow === null || hole.draw === null) return true;
  return order === "draw higher" ? hole.draw > hole.blow : hole.blow > hole.draw;
}

/** The notes a hole bends to on a breath, in semitones above the key note, exclusive ends; null where it bends to none. */
export function bendSpan(
  hole: Hole,
  breath: Breath,
): { readonly above: number; readonly below: number } | null {
  const other = breath === "blow" ? hole.draw : hole.blow;
  const own = hole[breath];
  if (own === null || other === null || own - other < 2 || (hole.valved ?? []).includes(breath)) return null;
  return { above: other, below: own };
}

/** The note a kept bend stands for, or null if the layout cannot do it. */
export function noteOfBend(layout: Layout, { hole, breath, bentSemitones }: KeptBend): number | null {
  const found = layout.holes[hole - 1];
  const span = found === undefined ? null : bendSpan(found, breath);
  if (span === null) return null;
  const note = span.below - bentSemitones;
  return bentSemitones >= 1 && note > span.above ? note : null;
}

/** Whether a hole still bends to a note on a breath. */
export function bendsTo(hole: Hole, breath: Breath, note: number): boolean {
  const span = bendSpan(hole, breath);
  return span !== null && note > span.above && note < span.below;
}

/** What holes of a breath sound together, as note names: pitch classes above the key note. */
export function chordNotes(layout: Layout, { breath, holes }: KeptChord): readonly number[] {
  return holes.flatMap((hole) => {
    const reed = layout.holes[hole - 1]?.[breath] ?? null;
    return reed === null ? [] : [pitchClass(reed)];
  });
}

export const sameNotes = (one: readonly number[], other: readonly number[]): boolean =>
  one.every((note) => other.includes(note)) && other.every((note) => one.includes(note));

/** A reed of a design and how it differs from the start. */
export interface ReedChange {
  readonly hole: number;
  readonly breath: Breath;
  /** Semitones above the key note. */
  readonly from: Semitones;
  readonly to: Semitones;
}

/** The reeds that differ between two layouts of equally many holes, hole by hole, blow before draw. */
export function changesBetween(start: Layout, other: Layout): readonly ReedChange[] {
  return start.holes.flatMap((hole, index) =>
    BREATHS.flatMap((breath) => {
      const from = hole[breath];
      const to = other.holes[index]?.[breath] ?? null;
      return from === null || to === null || from === to ? [] : [{ hole: index + 1, breath, from, to }];
    }),
  );
}

/** Semitones moved by all changes together. */
export const semitonesMoved = (changes: readonly ReedChange[]): number =>
  changes.reduce((sum, { from, to }) => sum + Math.abs(to - from), 0);
