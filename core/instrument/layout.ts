import { type Semitones, semitones } from "../units.ts";

/** Out through the reeds, or in. */
export type Breath = "blow" | "draw";
export const BREATHS: readonly Breath[] = ["blow", "draw"];

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
  /** Short name used on the command line and in files: lower-case words joined by hyphens. */
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
/** Reeds further than this below or above the key note are not taken: two octaves below, five above. */
export const LOWEST_REED = -24;
export const HIGHEST_REED = 60;

/** A layout from two rows of semitones above the key note, hole 1 first; null where there is no reed. */
export function layoutFromRows(
  id: string,
  name: string,
  rows: { readonly blow: readonly (number | null)[]; readonly draw: readonly (number | null)[] },
): Layout {
  if (rows.blow.length !== rows.draw.length)
    throw new RangeError(`layout ${id}: the two rows differ in length`);
  const reed = (value: number | null | undefined) =>
    value === null || value === undefined ? null : semitones(value);
  const holes = rows.blow.map((blow, index) => ({ blow: reed(blow), draw: reed(rows.draw[index]) }));
  return { id, name, holes };
}

/** The reed of a hole (counted from 1) and breath; null if the layout has none there. */
export function reedAt(layout: Layout, hole: number, breath: Breath): Semitones | null {
  return layout.holes[hole - 1]?.[breath] ?? null;
}

/** A plain reed of a layout with its place. */
export interface Reed {
  /** Counted from 1. */
  readonly hole: number;
  readonly breath: Breath;
  readonly sounds: Semitones;
}

/** Every reed there is, hole by hole, blow before draw. */
export function reedsOf(layout: Layout): readonly Reed[] {
  return layout.holes.flatMap((hole, index) =>
    BREATHS.flatMap((breath) => {
      const sounds = hole[breath];
      return sounds === null ? [] : [{ hole: index + 1, breath, sounds }];
    }),
  );
}

/** Whether two layouts have the same reeds and valves, whatever they are called. */
export function sameReeds(one: Layout, other: Layout): boolean {
  const valves = (hole: Hole) => BREATHS.filter((breath) => hole.valved?.includes(breath)).join();
  return (
    one.holes.length === other.holes.length &&
    one.holes.every((hole, index) => {
      const its = other.holes[index];
      return (
        its !== undefined && hole.blow === its.blow && hole.draw === its.draw && valves(hole) === valves(its)
      );
    })
  );
}
