import type { MadeExercise } from "../../core/exercise/drill-spec.ts";
import { makeDrill } from "../../core/exercise/make-drill.ts";
import type { DrillChoice } from "./drill-choice.ts";
import { harpOfChoice, type Shelf } from "./shelf.ts";
import { specOfChoice } from "./spec-of-choice.ts";

/** The exercise of a choice on a harp tuned to `a4Hz`, or why it cannot be played. */
export function exerciseOfChoice(choice: DrillChoice, a4Hz: number, shelf: Shelf): MadeExercise {
  const harp = harpOfChoice(choice, a4Hz, shelf);
  if (harp === null) {
    return { kind: "impossible", reason: `the layout "${choice.layout}" is no longer there` };
  }
  const spec = specOfChoice(choice, harp);
  return spec.kind === "impossible" ? spec : makeDrill(spec.spec);
}
