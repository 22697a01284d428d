import { type Exercise, type ExpectedNote, lengthOf, onsetOf } from "../../core/exercise/exercise.ts";
import { type Attempt, hasBeat, type Mark } from "../../core/score/attempt.ts";

/** An expected note where it belongs on the clock of its take. */
export interface PlacedNote {
  readonly note: ExpectedNote;
  readonly mark: Mark;
  /** When it should have begun, and until when it lasts as written. */
  readonly atSeconds: number;
  readonly untilSeconds: number;
  /** True for the first note of a bar. */
  readonly beginsBar: boolean;
}

/**
 * Where each note of an attempt belongs in its take: as its milliseconds say; where there are none, where it was heard; a
 * note that was not heard as far from its neighbour as it is written.
 *
 * @returns in playing order; no note begins before the one in front of it
 */
export function placeNotes(exercise: Exercise, attempt: Attempt): readonly PlacedNote[] {
  const stretch = stretchOf(attempt);
  const onsets = onsetsOf(exercise, attempt, stretch);
  return exercise.notes.flatMap((note, place): PlacedNote[] => {
    const mark = attempt.marks[note.index];
    const atSeconds = onsets[place];
    if (mark === undefined || atSeconds === undefined) return [];
    const written = atSeconds + stretch * lengthOf(exercise, note);
    const next = onsets[place + 1] ?? written;
    return [
      {
        note,
        mark,
        atSeconds,
        untilSeconds: Math.max(atSeconds, Math.min(written, next)),
        beginsBar: beginsBar(exercise, place),
      },
    ];
  });
}

/** Seconds played for each second written: without a beat as the player went, else as written. */
function stretchOf({ way, summary }: Attempt): number {
  const ratio = hasBeat(way) ? null : summary.timing.tempoRatio;
  return ratio === null || ratio <= 0 ? 1 : 1 / ratio;
}

function onsetsOf(exercise: Exercise, attempt: Attempt, stretch: number): readonly number[] {
  const heard = exercise.notes.map((note) => heardOnset(attempt.marks[note.index]));
  const zero = attempt.start.beatZeroSeconds + attempt.latencyMs / 1000;
  const onsets: number[] = [];
  exercise.notes.forEach((note, place) => {
    const before = exercise.notes[place - 1];
    const last = onsets[place - 1];
    const nextHeard = heard.findIndex((onset, at) => at > place && onset !== null);
    const onset =
      heard[place] ??
      (before !== undefined && last !== undefined
        ? last + stretch * (onsetOf(exercise, note) - onsetOf(exercise, before))
        : nextHeard === -1
          ? zero + stretch * onsetOf(exercise, note)
          : beforeHeard(exercise, place, nextHeard, heard[nextHeard] ?? zero, stretch));
    const latest =
      nextHeard === -1 ? Number.POSITIVE_INFINITY : (heard[nextHeard] ?? Number.POSITIVE_INFINITY);
    onsets.push(
      Math.max(last ?? Number.NEGATIVE_INFINITY, Math.min(onset, Math.max(latest, last ?? latest))),
    );
  });
  return onsets;
}

function beforeHeard(
  exercise: Exercise,
  place: number,
  heardPlace: number,
  heardAt: number,
  stretch: number,
): number {
  const [note, heard] = [exercise.notes[place], exercise.notes[heardPlace]];
  if (note === undefined || heard === undefined) return heardAt;
  return heardAt - stretch * (onsetOf(exercise, heard) - onsetOf(exercise, note));
}

function heardOnset(mark: Mark | undefined): number | null {
  if (mark === undefined || mark.onSeconds === null) return null;
  return mark.onSeconds - (mark.ms ?? 0) / 1000;
}

const barOf = (exercise: Exercise, place: number) =>
  Math.floor((exercise.notes[place]?.startBeats ?? 0) / exercise.beatsPerBar + 1e-9);

const beginsBar = (exercise: Exercise, place: number) =>
  place === 0 || barOf(exercise, place) !== barOf(exercise, place - 1);

/** A span of notes, both ends counted in. */
export interface NoteRange {
  readonly from: number;
  readonly to: number;
}

/** The notes of the bar a note stands in. */
export function barAround(placed: readonly PlacedNote[], index: number): NoteRange {
  let from = index;
  while (from > 0 && placed[from]?.beginsBar === false) from--;
  let to = index;
  while (to < placed.length - 1 && placed[to + 1]?.beginsBar === false) to++;
  return { from, to };
}

/** Heard before a note begins, so that its attack is not cut. */
const LEAD_SECONDS = 0.05;
const TAIL_SECONDS = 0.08;

/** Where a span of notes sounds in the take: from a moment before the first begins until the last has ended. */
export function secondsOf(
  placed: readonly PlacedNote[],
  { from, to }: NoteRange,
): { readonly fromSeconds: number; readonly toSeconds: number } {
  const [first, last, next] = [placed[from], placed[to], placed[to + 1]];
  const begins = first === undefined ? 0 : Math.min(first.mark.onSeconds ?? first.atSeconds, first.atSeconds);
  const sounds = last === undefined ? 0 : Math.max(last.mark.offSeconds ?? 0, last.untilSeconds);
  const ends = Math.min(sounds + TAIL_SECONDS, next?.mark.onSeconds ?? Number.POSITIVE_INFINITY);
  const fromSeconds = Math.max(0, begins - LEAD_SECONDS);
  return { fromSeconds, toSeconds: Math.max(ends, fromSeconds + LEAD_SECONDS) };
}
