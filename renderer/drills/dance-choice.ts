import { DANCE_GRIDS, DANCES, type Dance } from "../../core/exercise/dance-grids.ts";
import { type DrillChoice, FIRST_CHOICE } from "./drill-choice.ts";

type Grid = Pick<
  DrillChoice,
  "noteValue" | "beatsPerBar" | "notesPerBeat" | "rhythm" | "swing" | "accents" | "strokes" | "bpm"
>;

/** The grid of a dance brings metre, notes to the beat, rhythm, accents and tempo; the player may then change each. */
export function withDance(choice: DrillChoice, dance: Dance | "none"): DrillChoice {
  return { ...choice, ...gridOf(dance) };
}

/** The dance on whose grid a choice is, whatever the tempo; "none" where it is on no dance's. */
export function danceOf(choice: DrillChoice): Dance | "none" {
  return DANCES.find((dance) => isOn(choice, gridOf(dance))) ?? "none";
}

function gridOf(dance: Dance | "none"): Grid {
  if (dance === "none") {
    const { noteValue, beatsPerBar, notesPerBeat, rhythm, swing, accents, strokes, bpm } = FIRST_CHOICE;
    return { noteValue, beatsPerBar, notesPerBeat, rhythm, swing, accents, strokes, bpm };
  }
  const { rhythm, danceTempo, ...grid } = DANCE_GRIDS[dance];
  const swing = rhythm.kind === "swung" ? rhythm.ratio : FIRST_CHOICE.swing;
  return { ...grid, rhythm: rhythm.kind, swing, bpm: danceTempo };
}

function isOn(choice: DrillChoice, grid: Grid): boolean {
  const { bpm: _, swing, strokes: _own, ...rest } = grid;
  const same = Object.entries(rest).every(([name, value]) => choice[name as keyof DrillChoice] === value);
  return same && (grid.rhythm !== "swung" || choice.swing === swing);
}
