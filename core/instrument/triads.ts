import { type Degree, modeDegrees } from "../pitch/modes.ts";
import { letterName, type PitchClass, pitchClass } from "../pitch/note-names.ts";
import { type Harp, reedNote } from "./harp.ts";
import { BREATHS, type Breath } from "./layout.ts";
import { numeralOf } from "./numerals.ts";
import type { HomeScale } from "./scale-report.ts";

/** Neighbouring holes that sound nothing but notes of a triad. */
export interface TriadPlace {
  readonly breath: Breath;
  /** As many neighbours as fit, ascending; a complete one has all three notes within four of them. */
  readonly holes: readonly number[];
  /** Which of root, third and fifth do not sound there. */
  readonly lacks: readonly TriadPart[];
}

export type TriadPart = "root" | "third" | "fifth";

/** One triad of a mode and where a harp has it. */
export interface TriadReport {
  /** "I", "ii", "vii°". */
  readonly numeral: string;
  readonly root: PitchClass;
  readonly noteNames: readonly string[];
  readonly has: "complete" | "partial" | "none";
  readonly complete: readonly TriadPlace[];
  /** Places with two of the three notes. */
  readonly partial: readonly TriadPlace[];
}

const PARTS: readonly TriadPart[] = ["root", "third", "fifth"];
/** A mouth covers up to four holes. Common practice. */
const MOST_HOLES_AT_ONCE = 4;

/**
 * Which triads of a home key a harp has on neighbouring holes of one breath: on each degree of the mode, thirds stacked
 * within it, so major has I ii iii IV V vi vii°. Scales of other than seven notes take the triads of major or, with a minor
 * third, of minor.
 */
export function triadReports(harp: Harp, scale: HomeScale): readonly TriadReport[] {
  const degrees = sevenDegrees(scale);
  return degrees.map((_, index) => triadReport(harp, scale, degrees, index));
}

/** The seven degrees triads are stacked on: the scale's own, or where it has not seven those of major or minor. */
export function sevenDegrees(scale: HomeScale): readonly Degree[] {
  if (scale.degrees.length === 7) return scale.degrees;
  return modeDegrees(scale.degrees.some((degree) => degree.name === "b3") ? "minor" : "major");
}

function triadReport(harp: Harp, scale: HomeScale, degrees: readonly Degree[], index: number): TriadReport {
  const steps = [0, 2, 4].map((third) => degrees[(index + third) % 7]?.aboveHome ?? 0);
  const [root = 0, third = 0, fifth = 0] = steps;
  const notes = steps.map((step) => pitchClass(scale.home + step));
  const places = BREATHS.flatMap((breath) => placesOf(harp, breath, notes));
  const complete = places.filter((place) => place.lacks.length === 0);
  const partial = places.filter((place) => place.lacks.length === 1);
  return {
    numeral: numeralOf(root, degrees, pitchClass(third - root) === 3) + mark(pitchClass(fifth - root)),
    root: pitchClass(scale.home + root),
    noteNames: notes.map((note) => nameOf(note, scale)),
    has: complete.length > 0 ? "complete" : partial.length > 0 ? "partial" : "none",
    complete,
    partial,
  };
}

const nameOf = (note: PitchClass, scale: HomeScale) => letterName(note, scale.spelling);

function mark(fifth: number): string {
  if (fifth === 6) return "°";
  return fifth === 8 ? "+" : "";
}

function placesOf(harp: Harp, breath: Breath, notes: readonly PitchClass[]): readonly TriadPlace[] {
  return runsWithin(harp, breath, notes)
    .map((holes) => ({ breath, holes, lacks: lacking(harp, breath, holes, notes) }))
    .filter((place) => place.lacks.length < 2);
}

/** Longest stretches of two or more neighbours whose notes all belong to the triad. */
function runsWithin(
  harp: Harp,
  breath: Breath,
  notes: readonly PitchClass[],
): readonly (readonly number[])[] {
  const runs: number[][] = [[]];
  for (let hole = 1; hole <= harp.layout.holes.length; hole++) {
    const note = reedNote(harp, hole, breath);
    if (note !== null && notes.includes(pitchClass(note))) runs.at(-1)?.push(hole);
    else runs.push([]);
  }
  return runs.filter((run) => run.length >= 2);
}

/** What the best four neighbours of a run lack. */
function lacking(
  harp: Harp,
  breath: Breath,
  run: readonly number[],
  notes: readonly PitchClass[],
): readonly TriadPart[] {
  const grips = run.map((_, index) => run.slice(index, index + MOST_HOLES_AT_ONCE));
  const lacks = grips.map((grip) => {
    const sounding = grip.map((hole) => pitchClass(reedNote(harp, hole, breath) ?? Number.NaN));
    return PARTS.filter((_, part) => !sounding.includes(notes[part] ?? Number.NaN));
  });
  return lacks.reduce((best, next) => (next.length < best.length ? next : best), PARTS);
}
