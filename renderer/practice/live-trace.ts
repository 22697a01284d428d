import { type Exercise, onsetOf, targetMidi } from "../../core/exercise/exercise.ts";
import type { LiveReading } from "../audio/microphone.ts";
import { STRIP_CENTS } from "../ui/signs.tsx";

import { noteAt, shareOfNote } from "./sheet-shape.ts";

/** One live pitch reading, placed in the box of the note it falls on. */
export interface TracePoint {
  readonly index: number;
  /** Where in the note, 0..1. */
  readonly share: number;
  /** From the target, held to what the strip can show. */
  readonly cents: number;
  /** True where the pitch lies outside the strip and is drawn at its edge. */
  readonly beyond: boolean;
}

const NOTHING: readonly TracePoint[] = [];

/** The points of a take by note. A new point changes its own note alone: only that box is drawn again. */
export class LiveTrace {
  private readonly byNote = new Map<number, readonly TracePoint[]>();
  private readonly listeners = new Set<() => void>();

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** The points of a note; the same array until there are others. */
  of(index: number): readonly TracePoint[] {
    return this.byNote.get(index) ?? NOTHING;
  }

  add(point: TracePoint): void {
    this.byNote.set(point.index, [...this.of(point.index), point]);
    this.tell();
  }

  clear(): void {
    this.byNote.clear();
    this.tell();
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }
}

/** Where a live reading belongs on the sheet; null between takes, in silence and outside the exercise. */
export function placeReading(
  exercise: Exercise,
  reading: LiveReading,
  sinceBeatZeroSeconds: number,
): TracePoint | null {
  const index = noteAt(exercise, sinceBeatZeroSeconds);
  const note = index === null ? undefined : exercise.notes[index];
  if (index === null || note === undefined || reading.pitchMidi === null) return null;
  const off = 100 * (reading.pitchMidi - targetMidi(exercise, note));
  const cents = Math.max(-STRIP_CENTS, Math.min(STRIP_CENTS, off));
  const share = shareOfNote(exercise, index, sinceBeatZeroSeconds - onsetOf(exercise, note));
  return { index, share, cents, beyond: cents !== off };
}
