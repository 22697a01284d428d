import type { Leak } from "./listening.ts";
import type { PitchedNote } from "./pitched-note.ts";

/** A note, and the second reed that sounded with it. */
export interface ReadNote extends PitchedNote {
  readonly leak: Leak | null;
}

/** Two reeds this near in level are heard now the one, now the other. */
const ALIKE_DB = -6;
const SAME_REED_SEMITONES = 0.6;
/** The one begins where the other ends: within 20 ms, as edges are found apart. */
const TOUCHING_FRAMES = 4;

/** Whether two notes in a row are two reeds that sounded together all along, told in turn: each leaks into the other. */
export function isOneChord(before: ReadNote, after: ReadNote): boolean {
  const touching = after.found.onFrame - before.found.offFrame < TOUCHING_FRAMES;
  return touching && isLeakOf(before.leak, after) && isLeakOf(after.leak, before);
}

const alike = (a: number, b: number) => Math.abs(a - b) < SAME_REED_SEMITONES;

function isLeakOf(leak: Leak | null, note: ReadNote): boolean {
  if (leak === null || note.midi === null || leak.levelDb < ALIKE_DB) return false;
  return Math.abs(leak.pitchMidi - note.midi) < SAME_REED_SEMITONES;
}

/** Less of a note does not tell whether it is read at a harmonic of another. */
const TELLING_FRAMES = 24;

/** Whether two notes in a row are one, part of which was read at a harmonic of it. */
export function isOneReed(before: ReadNote, after: ReadNote): boolean {
  if (after.found.onFrame - before.found.offFrame >= TOUCHING_FRAMES || before.readAt === after.readAt)
    return false;
  if (alike(before.found.midi, after.found.midi)) return true;
  const read = ({ found, readAt }: ReadNote) => found.midi + 12 * Math.log2(readAt);
  const plain = before.readAt === 1 ? before : after;
  return plain.found.to - plain.found.from < TELLING_FRAMES && alike(read(before), read(after));
}

/** One note from both, with all they lasted, and the pitch of the one that tells it best. */
export function joined(before: ReadNote, after: ReadNote): ReadNote {
  const lower = before.readAt > after.readAt ? before : after;
  const longest = before.settledFrames >= after.settledFrames ? before : after;
  const longer =
    before.readAt === after.readAt || alike(before.found.midi, after.found.midi) ? longest : lower;
  const { onFrame, from } = before.found;
  const { offFrame, to } = after.found;
  return { ...longer, found: { onFrame, offFrame, from, to, midi: longer.found.midi } };
}
