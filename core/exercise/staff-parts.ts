import type { Exercise, ExpectedNote } from "./exercise.ts";

/** A note or a rest, or the share of it that lies in one bar. */
export interface StaffPart {
  /** null for a rest. */
  readonly note: ExpectedNote | null;
  readonly startBeats: number;
  readonly endBeats: number;
  /** Whether the same note goes on in the next part. */
  readonly tied: boolean;
}

const NEARLY = 1e-6;

/**
 * What stands between two beats, without gaps: notes as written, and rests where nothing is.
 *
 * @param fromBeats a bar line
 * @param toBeats   a bar line, or the end of the last note
 * @param unitsPerBeat smallest note values in a beat; parts off this grid end at the beat, so that a tuplet can hold them
 */
export function staffParts(
  exercise: Exercise,
  fromBeats: number,
  toBeats: number,
  unitsPerBeat: number,
): readonly StaffPart[] {
  const whole: StaffPart[] = [];
  let at = fromBeats;
  const rest = (until: number) => {
    if (until > at + NEARLY) whole.push({ note: null, startBeats: at, endBeats: until, tied: false });
  };
  for (const note of exercise.notes) {
    const start = Math.max(fromBeats, writtenStart(note));
    const end = Math.min(toBeats, writtenEnd(note));
    if (end <= start + NEARLY) continue;
    rest(start);
    const goesOn = writtenEnd(note) > end + NEARLY;
    whole.push({ note, startBeats: start, endBeats: end, tied: goesOn });
    at = end;
  }
  rest(toBeats);
  return whole
    .flatMap((part) => cutAt(part, exercise.beatsPerBar))
    .flatMap((part) => (isOnGrid(part, unitsPerBeat) ? [part] : cutAt(part, 1)));
}

export const writtenStart = (note: ExpectedNote): number => note.written?.startBeats ?? note.startBeats;

export const writtenEnd = (note: ExpectedNote): number => {
  const { startBeats, lengthBeats } = note.written ?? note;
  return startBeats + lengthBeats;
};

export const isNearlyWhole = (value: number): boolean => Math.abs(value - Math.round(value)) < NEARLY;

/** Whether plain note values can show where a part begins and ends. */
export const isOnGrid = (part: StaffPart, unitsPerBeat: number): boolean =>
  isNearlyWhole(part.startBeats * unitsPerBeat) && isNearlyWhole(part.endBeats * unitsPerBeat);

/** A part cut at every multiple of `step`; the pieces of a note are tied. */
function cutAt(part: StaffPart, step: number): readonly StaffPart[] {
  const pieces: StaffPart[] = [];
  let start = part.startBeats;
  for (;;) {
    const next = step * (Math.floor(start / step + NEARLY) + 1);
    if (next >= part.endBeats - NEARLY) return [...pieces, { ...part, startBeats: start }];
    pieces.push({ ...part, startBeats: start, endBeats: next, tied: part.note !== null });
    start = next;
  }
}
