import type { Breath, Layout } from "../../core/instrument/layout.ts";
import {
  type Abilities,
  reedActions,
  type SoundingAction,
  type Technique,
} from "../../core/instrument/reed-actions.ts";

/** One row of the picture: what one breath and technique sounds in each hole. */
export interface ReedRow {
  readonly id: string;
  /** "draw, bent 2". */
  readonly words: string;
  readonly breath: Breath;
  readonly technique: Technique;
  /** By hole, hole 1 first; null where the hole has no such note. */
  readonly cells: readonly (SoundingAction | null)[];
}

/** Rows above the holes, outermost first, and below them, innermost first. */
export interface ReedRows {
  readonly above: readonly ReedRow[];
  readonly below: readonly ReedRow[];
}

/** The rows of a layout: plain reeds next to the holes, deeper bends further out, overbends outermost. */
export function reedRows(layout: Layout, abilities: Abilities): ReedRows {
  const actions = reedActions(layout, abilities);
  const row = (breath: Breath, technique: Technique, bent: number): ReedRow => {
    const its = actions.filter(
      ({ action }) =>
        action.breath === breath && action.technique === technique && action.bentSemitones === bent,
    );
    return {
      id: `${breath}-${technique}-${bent}`,
      words: rowWords(breath, technique, bent),
      breath,
      technique,
      cells: layout.holes.map((_, index) => its.find(({ action }) => action.hole === index + 1) ?? null),
    };
  };
  const outwards = (breath: Breath): readonly ReedRow[] => {
    const deepest = Math.max(
      0,
      ...actions.filter(({ action }) => action.breath === breath).map(({ action }) => action.bentSemitones),
    );
    const bends = Array.from({ length: deepest }, (_, n) => row(breath, "bend", n + 1));
    const over = row(breath, breath === "blow" ? "overblow" : "overdraw", 0);
    const overbends = over.cells.some((cell) => cell !== null) ? [over] : [];
    return [row(breath, "plain", 0), ...bends, ...overbends];
  };
  return { above: [...outwards("blow")].reverse(), below: outwards("draw") };
}

function rowWords(breath: Breath, technique: Technique, bent: number): string {
  if (technique === "plain") return breath;
  return technique === "bend" ? `${breath}, bent ${bent}` : technique;
}

/** A place in the picture. */
export interface Place {
  readonly row: string;
  /** Counted from 1. */
  readonly hole: number;
}

/** The next place with a note in a direction; the same place if there is none. */
export function nextPlace(rows: readonly ReedRow[], from: Place, down: number, right: number): Place {
  const start = rows.findIndex((row) => row.id === from.row);
  for (let step = 1; ; step += 1) {
    const row = rows[start + step * down];
    const hole = from.hole + step * right;
    if (row === undefined || hole < 1 || hole > row.cells.length) return from;
    if ((row.cells[hole - 1] ?? null) !== null) return { row: row.id, hole };
  }
}
