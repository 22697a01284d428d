import type { Breath } from "../instrument/layout.ts";
import type { Line } from "./line.ts";
import type { Weights } from "./weights.ts";

/**
 * A simple model of the player's air, for where to breathe; not a statement about lungs. Air is counted in seconds of playing:
 * a drawn note adds its length, a blown one takes it off, whatever hole and technique. 0 is the comfortable middle, more
 * is full. In a rest the player moves `breathRate` seconds of air a second towards the middle, and no further.
 */
export interface AirStep {
  /** Place in the line. */
  readonly note: number;
  /** What the player may even out in the rest before the note, in seconds of air; 0 without a rest. */
  readonly evensSeconds: number;
  readonly lengthSeconds: number;
}

/** The sounded notes of a line and the rests before them. A note that is left out is a rest. */
export function airSteps(
  line: Line,
  isSounded: (note: number) => boolean,
  weights: Weights,
): readonly AirStep[] {
  const steps: AirStep[] = [];
  let end: number | null = null;
  for (const [index, note] of line.entries()) {
    if (!isSounded(index)) continue;
    const rest = end === null ? 0 : note.startSeconds - end;
    const next = line[index + 1];
    const most = next === undefined ? note.lengthSeconds : next.startSeconds - note.startSeconds;
    const lengthSeconds = Math.min(note.lengthSeconds, most);
    const evensSeconds = rest >= weights.restSeconds - 1e-9 ? rest * weights.breathRate : 0;
    steps.push({ note: index, evensSeconds, lengthSeconds });
    end = note.startSeconds + lengthSeconds;
  }
  return steps;
}

/** Air after evening out: nearer to the middle by at most so much. */
export function evened(air: number, by: number): number {
  return air > 0 ? Math.max(0, air - by) : Math.min(0, air + by);
}

/** Air after a note. */
export const afterNote = (air: number, breath: Breath, length: number): number =>
  breath === "draw" ? air + length : air - length;

/** Cost of a note at whose end there is so much air: `airExcess` for each second beyond the comfortable, a second long. */
export function excessCost(airSeconds: number, lengthSeconds: number, weights: Weights): number {
  return weights.airExcess * Math.max(0, Math.abs(airSeconds) - weights.airSeconds) * lengthSeconds;
}
