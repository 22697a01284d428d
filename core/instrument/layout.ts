import { type Semitones, semitones } from "../units.ts";

/** Out through the reeds, or in. */
export type Breath = "blow" | "draw";

/** The two reeds of a hole, in semitones above the key note; null where there is no reed. */
export interface Hole {
  readonly blow: Semitones | null;
  readonly draw: Semitones | null;
  /**
   * The breaths on which the hole's reed sounds alone, because a valve keeps that breath from the other reed.
   * Absent where there is no valve.
   */
  readonly valved?: readonly Breath[];
}

/**
 * Which note each reed sounds, whatever the key: 1 to 16 holes, hole 1 first. Semitones count from the key note, the
 * first note of the scale the layout is built on; hole 1 may lie below it.
 */
export interface Layout {
  /** Short name used on the command line and in files. */
  readonly id: string;
  /** Plain description a player reads. */
  readonly name: string;
  readonly holes: readonly Hole[];
  /** The note positions are counted from, in semitones above the key note, 0 to 11; 0 where absent. */
  readonly positionKey?: Semitones;
  /** The note such harps are usually labelled by, in semitones above the key note, 0 to 11; 0 where absent. */
  readonly labelKey?: Semitones;
}

export const MOST_HOLES = 16;

/** A layout from two rows of semitones above the key note, hole 1 first. */
export function layoutFromRows(
  id: string,
  name: string,
  rows: { readonly blow: readonly number[]; readonly draw: readonly number[] },
): Layout {
  if (rows.blow.length !== rows.draw.length)
    throw new RangeError(`layout ${id}: the two rows differ in length`);
  const holes = rows.blow.map((blow, index) => ({
    blow: semitones(blow),
    draw: semitones(rows.draw[index] ?? 0),
  }));
  return { id, name, holes };
}

/** The reed of a hole (counted from 1) and breath; null if the layout has none there. */
export function reedAt(layout: Layout, hole: number, breath: Breath): Semitones | null {
  return layout.holes[hole - 1]?.[breath] ?? null;
}
