import type { HeardNote, Leak } from "../listen/listening.ts";
import { SAME_REED_SEMITONES, touches } from "./played-parts.ts";

/** A second hole is heard by itself only where it is about as loud as the first. */
const ALIKE_DB = -8;

/**
 * The sounds that are one chord with a note: two holes so alike in level that now the one is heard, now the other, one
 * touching the next, each or either with the other as its second reed.
 *
 * @param free whether a sound answers nothing else
 * @returns places of the first and the last of them
 */
export function chordAround(
  notes: readonly HeardNote[],
  at: number,
  free: (place: number) => boolean,
): { readonly from: number; readonly to: number } {
  return { from: reach(notes, at, -1, free), to: reach(notes, at, 1, free) };
}

function reach(
  notes: readonly HeardNote[],
  at: number,
  step: -1 | 1,
  free: (place: number) => boolean,
): number {
  const own = notes[at];
  const members = own === undefined ? [] : [own];
  let last = at;
  for (let place = at + step; free(place); place += step) {
    const [inner, note] = [notes[place - step], notes[place]];
    const inTurn = step < 0 ? touches(note, inner) : touches(inner, note);
    if (note === undefined || !inTurn) break;
    // A part too short to read belongs to the chord if what lies beyond it does.
    if (note.pitchMidi === null) continue;
    const goesOn = members.length > 1 && members.some((one) => sameReed(one, note));
    if (!goesOn && !members.some((one) => soundTogether(one, note))) break;
    members.push(note);
    last = place;
  }
  return last;
}

function soundTogether(one: HeardNote, other: HeardNote): boolean {
  return isLeak(one.leak, other) || isLeak(other.leak, one);
}

function isLeak(leak: Leak | null, note: HeardNote): boolean {
  if (leak === null || leak.levelDb < ALIKE_DB || note.pitchMidi === null) return false;
  return Math.abs(leak.pitchMidi - note.pitchMidi) <= SAME_REED_SEMITONES;
}

function sameReed(one: HeardNote, other: HeardNote): boolean {
  if (one.pitchMidi === null || other.pitchMidi === null) return false;
  return Math.abs(one.pitchMidi - other.pitchMidi) <= SAME_REED_SEMITONES;
}
