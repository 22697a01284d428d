import type { ModeName } from "../pitch/modes.ts";
import { keyName, type PitchClass, pitchClass } from "../pitch/note-names.ts";
import type { Harp } from "./harp.ts";

/** First to twelfth. */
export type Position = number;

/**
 * Home note of a position: n - 1 fifths above the note the count starts from, which is the key note unless the layout says
 * otherwise. Source: harp-l list archive, July 1994, msg 19.
 */
export function positionHome(harp: Harp, position: Position): PitchClass {
  return pitchClass(harp.keyNote + (harp.layout.positionKey ?? 0) + 7 * (position - 1));
}

export const POSITIONS: readonly Position[] = Array.from({ length: 12 }, (_, index) => index + 1);

/** The position whose home note has this pitch class: the second for D on a G harp. */
export function positionOfHome(harp: Harp, home: PitchClass): Position {
  return POSITIONS.find((position) => positionHome(harp, position) === pitchClass(home)) ?? 1;
}

/**
 * Modes a standard layout gives with its natural notes, by position.
 * Derived: the major scale of the key, begun on the note n - 1 fifths up. Positions 7 to 11 have no natural home note.
 */
const NATURAL_MODES: Readonly<Record<Position, ModeName>> = {
  1: "major",
  2: "mixolydian",
  3: "dorian",
  4: "minor",
  5: "phrygian",
  6: "locrian",
  12: "lydian",
};

/** The mode of a position's natural notes on a standard layout, or null where the home note is not natural. */
export function naturalMode(position: Position): ModeName | null {
  return NATURAL_MODES[position] ?? null;
}

/** Home note's usual name: "D" for second position on a G harp. */
export function positionHomeName(harp: Harp, position: Position): string {
  const home = positionHome(harp, position);
  return home === pitchClass(harp.keyNote) ? harp.key : keyName(home);
}

const ORDINAL_ENDINGS: Readonly<Record<number, string>> = { 1: "st", 2: "nd", 3: "rd" };

/** "1st", "2nd", "3rd", "4th" … "12th". */
export function positionName(position: Position): string {
  return `${position}${ORDINAL_ENDINGS[position] ?? "th"}`;
}
