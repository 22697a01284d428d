import type { PlacedNote } from "./placed-notes.ts";
import { SHOWN_CENTS } from "./trace-lines.ts";

/** Heights of the trace's parts, pixels: note names, pitch, beat. */
export const NAMES_HEIGHT = 32;
const PIXELS_PER_CENT = 1.6;
const EDGE = 8;
export const PITCH_HEIGHT = 2 * (SHOWN_CENTS * PIXELS_PER_CENT + EDGE);
export const BEAT_HEIGHT = 40;
export const TRACE_HEIGHT = NAMES_HEIGHT + PITCH_HEIGHT + BEAT_HEIGHT;
/** Height of the target line. */
export const MIDDLE = NAMES_HEIGHT + PITCH_HEIGHT / 2;
export const BEAT_LINE = TRACE_HEIGHT - BEAT_HEIGHT / 2;

export const yOfCents = (cents: number) => MIDDLE - PIXELS_PER_CENT * cents;
export const heightOfCents = (cents: number) => PIXELS_PER_CENT * cents;

const FACTOR = 1.5;
const MOST_PER_SECOND = 1200;
/** A note of usual length is this wide at first: its name and the milliseconds beside it can be read. */
const FIRST_NOTE_PIXELS = 80;
const SHORTEST_NOTE_SECONDS = 0.07;

/** Pixels a second takes at first. */
export function firstZoom(placed: readonly PlacedNote[]): number {
  const lengths = placed.map(({ atSeconds, untilSeconds }) => untilSeconds - atSeconds).sort((a, b) => a - b);
  const usual = lengths[lengths.length >> 1] ?? 0.5;
  return FIRST_NOTE_PIXELS / Math.max(SHORTEST_NOTE_SECONDS, usual);
}

/**
 * One step nearer (1) or further away (-1).
 *
 * @param whole pixels a second takes where the whole take just fits: no step goes beyond
 */
export function zoomed(perSecond: number, step: 1 | -1, whole: number): number {
  return Math.min(MOST_PER_SECOND, Math.max(Math.min(whole, perSecond), perSecond * FACTOR ** step));
}

/** Seconds of the take that are drawn: the view the scroll bar shows and one as wide on either side. */
export function drawnSpan(scrollLeft: number, width: number, perSecond: number) {
  const view = Math.floor(Math.max(0, scrollLeft) / Math.max(1, width));
  return {
    fromSeconds: Math.max(0, ((view - 1) * width) / perSecond),
    toSeconds: ((view + 2) * width) / perSecond,
  };
}
