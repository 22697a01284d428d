import { BREATHS, type Breath, type Layout } from "../../instrument/layout.ts";
import type { HoleChoice } from "./hole-choices.ts";
import { chordNotes, type KeptChord } from "./limits.ts";
import { notesOfReeds, TRIAD_HOLES, type WantedTriad } from "./triads-wanted.ts";

/** What must or should sound together, watched hole by hole. */
export interface ChordWatch {
  readonly triads: readonly WantedTriad[];
  readonly kept: readonly WatchedChord[];
}

interface WatchedChord {
  readonly breath: Breath;
  /** Counted from 0. */
  readonly holes: readonly number[];
  /** Pitch classes as bits. */
  readonly notes: number;
}

/** What the holes so far have of it. */
export interface Heard {
  /** By place of the wanted triad, as bits: complete somewhere. */
  readonly triads: number;
  /** By kept chord, the pitch classes sounding so far. */
  readonly kept: readonly number[];
  /** The holes before, as many as a triad that is not finished needs. */
  readonly last: readonly HoleChoice[];
}

export const NOTHING_HEARD = (watch: ChordWatch): Heard => ({
  triads: 0,
  kept: watch.kept.map(() => 0),
  last: [],
});

export function chordWatch(
  start: Layout,
  triads: readonly WantedTriad[],
  kept: readonly KeptChord[],
): ChordWatch {
  return {
    triads,
    kept: kept.map((chord) => ({
      breath: chord.breath,
      holes: chord.holes.map((hole) => hole - 1),
      notes: notesOfReeds(chordNotes(start, chord)),
    })),
  };
}

/**
 * What is heard with one hole more, and how many places of wanted triads it finishes; null where a kept chord is spoilt.
 *
 * @param hole counted from 0
 */
export function hearHole(
  watch: ChordWatch,
  before: Heard,
  hole: number,
  choice: HoleChoice,
): { readonly heard: Heard; readonly places: number } | null {
  const kept = watch.kept.map(({ breath, holes }, place) => {
    const sofar = before.kept[place] ?? 0;
    return holes.includes(hole) ? sofar | notesOfReeds([choice[breath]]) : sofar;
  });
  const isSpoilt = watch.kept.some(
    ({ holes, notes }, place) => holes.at(-1) === hole && kept[place] !== notes,
  );
  if (isSpoilt) return null;
  if (watch.triads.length === 0) return { heard: { triads: 0, kept, last: [] }, places: 0 };
  const grip = [...before.last, choice];
  const found = grip.length < TRIAD_HOLES ? [] : triadsOn(watch.triads, grip);
  const triads = found.reduce((bits, place) => bits | (1 << place), before.triads);
  return { heard: { triads, kept, last: grip.slice(1 - TRIAD_HOLES) }, places: found.length };
}

/** Places of the wanted triads that three holes sound, breath by breath. */
function triadsOn(triads: readonly WantedTriad[], grip: readonly HoleChoice[]): readonly number[] {
  return BREATHS.flatMap((breath) => {
    const notes = notesOfReeds(grip.map((one) => one[breath]));
    const place = triads.findIndex((triad) => triad.notes === notes);
    return place < 0 ? [] : [place];
  });
}

/** Two ways to the same of this go on alike. */
export function heardKey({ triads, kept, last }: Heard): string {
  return `${triads}|${kept.join()}|${last.map(({ blow, draw }) => `${blow} ${draw}`).join()}`;
}

export function countBits(bits: number): number {
  let count = 0;
  for (let left = bits; left !== 0; left &= left - 1) count++;
  return count;
}
