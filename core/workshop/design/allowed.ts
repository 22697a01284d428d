import { BREATHS, type Layout } from "../../instrument/layout.ts";
import type { HoleChoice } from "./hole-choices.ts";
import { chordNotes, type Limits, sameNotes } from "./limits.ts";
import { notesOfReeds, TRIAD_HOLES } from "./triads-wanted.ts";

/** What whole layouts must obey beside what each hole obeys by itself. */
export interface WholeLimits {
  readonly mostChanged: number;
  /** Notes that must have a plain reed, semitones above the key note. */
  readonly notes: readonly number[];
  /** Triads that must be complete on three neighbouring holes of one breath, each as pitch classes in bits. */
  readonly triads: readonly number[];
  readonly start: Layout;
  readonly limits: Limits;
}

export const changedOf = (holes: readonly HoleChoice[]): number =>
  holes.reduce((sum, { changed }) => sum + changed, 0);
export const movedOf = (holes: readonly HoleChoice[]): number =>
  holes.reduce((sum, { moved }) => sum + moved, 0);

/** Whether a choice for every hole keeps them all. */
export function isAllowed(holes: readonly HoleChoice[], whole: WholeLimits): boolean {
  return (
    changedOf(holes) <= whole.mostChanged &&
    soundsAll(holes, whole.notes) &&
    keepsChords(holes, whole) &&
    hasTriads(holes, whole.triads)
  );
}

const soundsAll = (holes: readonly HoleChoice[], notes: readonly number[]): boolean =>
  notes.every((note) => holes.some(({ blow, draw }) => blow === note || draw === note));

const hasTriads = (holes: readonly HoleChoice[], triads: readonly number[]): boolean =>
  triads.every((triad) =>
    BREATHS.some((breath) =>
      holes.some((_, first) => {
        const grip = holes.slice(first, first + TRIAD_HOLES);
        return grip.length === TRIAD_HOLES && notesOfReeds(grip.map((hole) => hole[breath])) === triad;
      }),
    ),
  );

function keepsChords(holes: readonly HoleChoice[], { start, limits }: WholeLimits): boolean {
  if (limits.chords.length === 0) return true;
  const layout = {
    ...start,
    holes: start.holes.map((hole, place) => ({ ...hole, ...rowsOf(holes[place]) })),
  };
  return limits.chords.every((chord) =>
    sameNotes(chordNotes(start, chord), chordNotes(layout as Layout, chord)),
  );
}

const rowsOf = (choice: HoleChoice | undefined) =>
  choice === undefined ? {} : { blow: choice.blow, draw: choice.draw };
