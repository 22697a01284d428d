import type { Exercise } from "../../../core/exercise/exercise.ts";
import { patternDrill } from "../../../core/exercise/pattern-drill.ts";
import { drill, exerciseOf } from "../../support/drills.ts";

/** What the simulated players practise: two scales over two octaves and a pattern in threes, on a G harp. */
export function exercises(): readonly Exercise[] {
  const pattern = patternDrill({
    ...drill({ mode: "dorian", start: "lowest" }),
    kind: "pattern",
    figure: "threes",
  });
  if (pattern.kind === "impossible") throw new Error(pattern.reason);
  return [
    exerciseOf({ octaves: 2 }),
    exerciseOf({ position: 1, octaves: 2, mode: "major" }),
    pattern.exercise,
  ];
}
