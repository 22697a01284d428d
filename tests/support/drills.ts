import type { Exercise } from "../../core/exercise/exercise.ts";
import { makeScaleDrill, type ScaleDrill } from "../../core/exercise/scale-drill.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { bpm } from "../../core/units.ts";
import { harp } from "./harps.ts";

/** D mixolydian on a G harp in second position, crotchet = 90, unless told otherwise. */
export function drill(changes: Partial<ScaleDrill> = {}): ScaleDrill {
  return {
    harp: harp("G"),
    position: 2,
    mode: "mixolydian",
    octaves: 1,
    direction: "both",
    start: "easiest",
    tempo: { bpm: bpm(90), noteValue: "1/4" },
    notesPerBeat: 1,
    countInBeats: 4,
    abilities: PLAIN_AND_BENDS,
    ...changes,
  };
}

/** The exercise of a drill that can be made. */
export function exerciseOf(changes: Partial<ScaleDrill> = {}): Exercise {
  const made = makeScaleDrill(drill(changes));
  if (made.kind === "impossible") throw new Error(made.reason);
  return made.exercise;
}
