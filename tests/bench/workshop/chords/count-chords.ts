import type { HeardChord } from "../../../../core/listen/chords/heard-chord.ts";
import { harpTable } from "../../marks/harp-table.ts";
import type { ChordTake, PlayedChord } from "./chord-take.ts";

export type Outcome = "right" | "wrong" | "not sure" | "missed";

/** What became of a chord that was played. */
export interface Counted {
  readonly played: PlayedChord;
  readonly outcome: Outcome;
  /** Heard onset less the played one; null where nothing was heard. */
  readonly onsetMs: number | null;
  readonly heard: HeardChord | null;
}

export interface TakeCount {
  readonly chords: readonly Counted[];
  /** Heard where nothing was played. */
  readonly tooMany: number;
}

/** A chord belongs to the one that was played nearest to it in time, if it is no further off. */
const NEAR_SECONDS = 0.08;

/** Right is: the breath and exactly the holes, each chord once; of holes in unison either. */
export function countChords(take: ChordTake, heard: readonly HeardChord[]): TakeCount {
  const used = new Set<HeardChord>();
  const chords = take.played.map((played): Counted => {
    const distance = (one: HeardChord) => Math.abs(one.onSeconds - played.onSeconds);
    const near = heard
      .filter((one) => !used.has(one) && distance(one) < NEAR_SECONDS)
      .reduce<HeardChord | null>(
        (best, one) => (best === null || distance(one) < distance(best) ? one : best),
        null,
      );
    if (near === null) return { played, outcome: "missed", onsetMs: null, heard: null };
    used.add(near);
    return {
      played,
      outcome: outcomeOf(take, played, near),
      onsetMs: 1000 * (near.onSeconds - played.onSeconds),
      heard: near,
    };
  });
  return { chords, tooMany: heard.filter((one) => !used.has(one)).length };
}

function outcomeOf({ layoutId }: ChordTake, played: PlayedChord, heard: HeardChord): Outcome {
  if (heard.unsure !== null) return "not sure";
  if (heard.breath !== played.breath) return "wrong";
  const row = harpTable(layoutId)[played.breath];
  const notesOf = (holes: readonly number[]) => String([...new Set(holes.map((hole) => row[hole - 1]))]);
  return notesOf(heard.holes) === notesOf(played.holes) ? "right" : "wrong";
}

/** Semitones from note to note of a chord: "4-3" is a major triad in root position. */
export const intervalsOf = ({ notes }: PlayedChord): string =>
  notes
    .slice(1)
    .map((note, place) => note - (notes[place] ?? note))
    .join("-");
