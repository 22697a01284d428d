import {
  countInSeconds,
  type Exercise,
  lengthOf,
  onsetOf,
  targetMidi,
} from "../../core/exercise/exercise.ts";
import type { HeardNote } from "../../core/listen/listening.ts";
import { seconds } from "../../core/units.ts";
import { heardNote } from "./listenings.ts";

/** Seconds between the end of one note and the beginning of the next. */
const GAP_SECONDS = 0.012;

/** What an ear hears of one note: from `onSeconds`, for `lengthSeconds` less the gap to the next. */
export function sounded(
  onSeconds: number,
  lengthSeconds: number,
  midi: number | null,
  changes: Partial<HeardNote> = {},
): HeardNote {
  return heardNote(onSeconds, midi, {
    offSeconds: seconds(onSeconds + lengthSeconds - GAP_SECONDS),
    ...changes,
  });
}

/**
 * The notes of an exercise from one to another, the end left out, as a steady player sounds them.
 *
 * @param fromSeconds when the first of them sounds; on the beat after the count-in where not said
 * @param stretch     seconds played for each second written
 */
export function playNotes(
  of: Exercise,
  options: {
    readonly from?: number;
    readonly to?: number;
    readonly fromSeconds?: number;
    readonly stretch?: number;
  } = {},
): HeardNote[] {
  const { from = 0, to = of.notes.length, stretch = 1 } = options;
  const notes = of.notes.slice(from, to);
  const first = notes[0];
  if (first === undefined) return [];
  const begin = options.fromSeconds ?? countInSeconds(of) + onsetOf(of, first);
  return notes.map((note) =>
    sounded(
      begin + stretch * (onsetOf(of, note) - onsetOf(of, first)),
      stretch * lengthOf(of, note),
      targetMidi(of, note),
    ),
  );
}

/** When the beat after the last of some notes comes, at the tempo they were played. */
export const endOf = (notes: readonly HeardNote[]): number => (notes.at(-1)?.offSeconds ?? 0) + GAP_SECONDS;
