import { type Exercise, targetMidi } from "../../core/exercise/exercise.ts";
import type { Frame, Listening } from "../../core/listen/listening.ts";
import { hzToMidi } from "../../core/pitch/equal-temperament.ts";
import type { PlacedNote } from "./placed-notes.ts";

/** Cents from the target the trace shows either way; what lies beyond is drawn at the edge. */
export const SHOWN_CENTS = 60;

/** Pitch heard on end, from the target of the note it was heard for. */
export interface TraceLine {
  readonly index: number;
  /** True where all of it lies beyond what is shown. */
  readonly beyond: boolean;
  readonly points: readonly TracePlace[];
}

export interface TracePlace {
  readonly atSeconds: number;
  /** Held to what is shown. */
  readonly cents: number;
}

/** Frames further apart than this have a silence between them. */
const LONGEST_GAP_SECONDS = 0.012;

/** The lines of every note that was heard, in order; none for a chord, which has no one pitch. */
export function traceLines(
  exercise: Exercise,
  listening: Listening,
  placed: readonly PlacedNote[],
): readonly TraceLine[] {
  return placed.flatMap(({ note, mark }) => {
    if (mark.onSeconds === null || mark.offSeconds === null || note.chord !== undefined) return [];
    const target = targetMidi(exercise, note) + (mark.reedCents ?? 0) / 100;
    const places = framesBetween(listening.frames, mark.onSeconds, mark.offSeconds).flatMap((frame) =>
      frame.pitchHz === null || !frame.voiced
        ? []
        : [{ atSeconds: frame.atSeconds, off: 100 * (hzToMidi(frame.pitchHz) - target) }],
    );
    return cut(note.index, places);
  });
}

interface Off {
  readonly atSeconds: number;
  readonly off: number;
}

/** Cuts at silences and where the pitch leaves what is shown or comes back. */
function cut(index: number, places: readonly Off[]): readonly TraceLine[] {
  const lines: { index: number; beyond: boolean; points: TracePlace[] }[] = [];
  places.forEach(({ atSeconds, off }, place) => {
    const beyond = Math.abs(off) > SHOWN_CENTS;
    const before = places[place - 1];
    // Far above and far below lie at two edges with nothing between.
    const leapt = beyond && before !== undefined && before.off * off < 0;
    const last = lines.at(-1);
    const gap = before === undefined || atSeconds - before.atSeconds > LONGEST_GAP_SECONDS;
    const point = { atSeconds, cents: Math.max(-SHOWN_CENTS, Math.min(SHOWN_CENTS, off)) };
    if (last === undefined || gap || leapt || last.beyond !== beyond)
      lines.push({ index, beyond, points: [point] });
    else last.points.push(point);
  });
  return lines;
}

function framesBetween(frames: readonly Frame[], from: number, to: number): readonly Frame[] {
  return frames.slice(firstAtOrAfter(frames, from), firstAtOrAfter(frames, to));
}

function firstAtOrAfter(frames: readonly Frame[], seconds: number): number {
  let low = 0;
  let high = frames.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((frames[middle]?.atSeconds ?? 0) < seconds) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Points closer than this on the screen are left out. */
const LEAST_PIXELS = 0.75;

/** A line as the `d` of a path, thinned to what the screen can show. */
export function pathOf(
  { points }: TraceLine,
  xOf: (seconds: number) => number,
  yOf: (cents: number) => number,
): string {
  let lastX = Number.NEGATIVE_INFINITY;
  const parts: string[] = [];
  points.forEach(({ atSeconds, cents }, place) => {
    const x = xOf(atSeconds);
    if (x - lastX < LEAST_PIXELS && place !== points.length - 1) return;
    lastX = x;
    parts.push(`${parts.length === 0 ? "M" : "L"}${x.toFixed(1)} ${yOf(cents).toFixed(1)}`);
  });
  // A single point would not be seen.
  return parts.length === 1 ? `${parts[0]}h1` : parts.join("");
}
