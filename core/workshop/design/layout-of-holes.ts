import type { Hole, Layout } from "../../instrument/layout.ts";
import { semitones } from "../../units.ts";
import type { HoleChoice } from "./hole-choices.ts";

/** The layout begun with, tuned as chosen; valves stay where they are. */
export function layoutOfHoles(start: Layout, choices: readonly HoleChoice[]): Layout {
  const reed = (note: number | null | undefined) =>
    note === null || note === undefined ? null : semitones(note);
  const holes = start.holes.map(
    (hole, place): Hole => ({ ...hole, blow: reed(choices[place]?.blow), draw: reed(choices[place]?.draw) }),
  );
  return { ...start, holes };
}
