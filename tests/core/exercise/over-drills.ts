import fc from "fast-check";
import { expect } from "vitest";
import type { DrillSpec } from "../../../core/exercise/drill-spec.ts";
import type { Exercise } from "../../../core/exercise/exercise.ts";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { anyDrill } from "./any-drill.ts";

/** Runs a statement over so many drills of a kind that can be made; those that cannot say why, and are drawn again. */
export function overMadeDrills(
  kind: DrillSpec["kind"],
  runs: number,
  statement: (exercise: Exercise, spec: DrillSpec) => void,
) {
  let made = 0;
  fc.assert(
    fc.property(anyDrill(kind), (spec) => {
      const result = makeDrill(spec);
      if (result.kind === "impossible") {
        expect(result.reason).not.toBe("");
        expect(result.reason).not.toMatch(/\n|undefined|NaN|Infinity|\[object/);
      }
      fc.pre(result.kind === "exercise");
      made++;
      statement(result.exercise, spec);
    }),
    { numRuns: runs, maxSkipsPerRun: 500 },
  );
  expect(made).toBe(runs);
}

type Note = Exercise["notes"][number];

/** Neighbouring notes without a rest between them: what is played in one go. */
export function movesWithoutRest(exercise: Exercise): readonly (readonly [from: Note, to: Note])[] {
  return exercise.notes.slice(1).flatMap((to, place) => {
    const from = exercise.notes[place];
    return from !== undefined && to.startBeats - from.startBeats - from.lengthBeats < 1e-6
      ? [[from, to] as const]
      : [];
  });
}
