import type { Exercise } from "../../../core/exercise/exercise.ts";
import { type Breath, deepestBend, type HarpTable, harpTable, otherBreath, reedOf } from "./harp-table.ts";

/** A written note with its surroundings, and the harp it is played on. Pitches are fractional MIDI at A4 = 440 Hz. */
export interface Place {
  readonly index: number;
  readonly hole: number;
  readonly breath: Breath;
  /** Semitones bent; the bench's drills have no overblows. */
  readonly bent: number;
  readonly tab: string;
  readonly target: number;
  /** From the start of the take. */
  readonly onSeconds: number;
  readonly lengthSeconds: number;
  /** Whether the next note begins where this one ends. */
  readonly touchesNext: boolean;
}

export interface Score {
  readonly places: readonly Place[];
  readonly harp: Harp;
  readonly leadSeconds: number;
  readonly endSeconds: number;
}

/** A harp in its key. */
export interface Harp {
  readonly table: HarpTable;
  readonly keyNote: number;
  /** What its A4 adds to every pitch, semitones. */
  readonly reference: number;
}

/** What an exercise asks for, in the bench's own arithmetic. */
export function scoreOf(exercise: Exercise): Score {
  const { harp, tempo, countInBeats } = exercise;
  const beat = 60 / tempo.bpm;
  const lead = countInBeats * beat;
  const own: Harp = {
    table: harpTable(harp.layout.id),
    keyNote: harp.keyNote,
    reference: 12 * Math.log2(harp.a4 / 440),
  };
  const places = exercise.notes.map((note, place): Place => {
    const next = exercise.notes[place + 1];
    const end = note.startBeats + note.lengthBeats;
    return {
      hole: note.action.hole,
      breath: note.action.breath,
      bent: note.action.bentSemitones,
      index: note.index,
      tab: note.tab,
      target: note.midi + note.targetCents / 100 + own.reference,
      onSeconds: lead + note.startBeats * beat,
      lengthSeconds: note.lengthBeats * beat,
      touchesNext: next !== undefined && next.startBeats - end < 1e-6,
    };
  });
  const last = places.at(-1);
  return {
    places,
    harp: own,
    leadSeconds: lead,
    endSeconds: last === undefined ? lead : last.onSeconds + last.lengthSeconds,
  };
}

/** Pitch of a plain reed; null where there is none. */
export function reedPitch(harp: Harp, hole: number, breath: Breath): number | null {
  const reed = reedOf(harp.table, hole, breath);
  return reed === null ? null : harp.keyNote + reed + harp.reference;
}

/** Pitches of the plain reeds beside a hole on one breath. */
export function besideOf(harp: Harp, hole: number, breath: Breath) {
  return [hole + 1, hole - 1].flatMap((other) => {
    const pitch = reedPitch(harp, other, breath);
    return pitch === null ? [] : [{ hole: other, breath, pitch }];
  });
}

/** How much deeper than its target a bend can still go, semitones. */
export function roomBelow(harp: Harp, { hole, breath, bent }: Place): number {
  return deepestBend(harp.table, hole, breath) - bent;
}

/** What a wrong pitch can come from. */
export type Cause =
  | "neighbour hole"
  | "wrong breath"
  | "octave"
  | "bend too shallow"
  | "bend too deep"
  | "unbent"
  | "early breath change";

/** Two pitches nearer than this, semitones, cannot be told apart by ear alone. */
const SAME = 0.4;
const RIGHT = 0.5;

/**
 * Everything on this harp that would sound about as a pitch does in place of a note. A fault is planted only where this
 * has one answer: of two no ear could name the right one.
 */
export function causesOf(
  harp: Harp,
  place: Place,
  before: Place | undefined,
  pitch: number,
): readonly Cause[] {
  const { hole, breath, bent, target } = place;
  const is = (other: number | null) => other !== null && Math.abs(other - pitch) < SAME;
  const plain = reedPitch(harp, hole, breath);
  const bends = bent > 0 && plain !== null;
  const unbent = bends && is(plain);
  const turnedEarly = before !== undefined && before.hole !== hole && before.breath !== breath;
  const found: readonly (readonly [Cause, boolean])[] = [
    ["neighbour hole", besideOf(harp, hole, breath).some((one) => is(one.pitch))],
    ["wrong breath", is(reedPitch(harp, hole, otherBreath(breath)))],
    ["octave", Math.abs(Math.abs(pitch - target) - 12) < SAME],
    ["unbent", unbent],
    ["bend too shallow", bends && !unbent && pitch > target + RIGHT && pitch < plain],
    ["bend too deep", bends && pitch < target - RIGHT && pitch > target - roomBelow(harp, place) - RIGHT],
    ["early breath change", turnedEarly && is(reedPitch(harp, before.hole, breath))],
  ];
  return found.flatMap(([cause, fits]) => (fits ? [cause] : []));
}
