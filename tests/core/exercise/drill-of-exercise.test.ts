import { describe, expect, test } from "vitest";
import { drillOfExercise } from "../../../core/exercise/drill-of-exercise.ts";
import type { Exercise } from "../../../core/exercise/exercise.ts";
import { checkExercise } from "../../../core/exercise/exercise-json.ts";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { exerciseOf } from "../../support/drills.ts";
import { made } from "./make.ts";

function again(exercise: Exercise): Exercise {
  const drill = drillOfExercise(exercise);
  if (drill.kind === "unreadable") throw new Error(drill.reason);
  const result = makeDrill(drill.spec);
  if (result.kind === "impossible") throw new Error(result.reason);
  return result.exercise;
}

describe("making an exercise again", () => {
  test.each([
    [true, false],
    ["2 3", "4 6"],
  ])(
    "an exercise stored before there were other drills is still read and made again (%s)",
    (bends, overbends) => {
      // The form of exercise files as first written: abilities as two values of their own, no field of later drills.
      const now = exerciseOf({ start: "lowest" });
      const { abilities: _, ...choices } = now.parameters;
      const stored = { ...now, parameters: { ...choices, bends, overbends } };
      const read = checkExercise(JSON.parse(JSON.stringify(stored)));
      if (read.kind === "unreadable") throw new Error(read.reason);
      expect(again(read.exercise).notes).toEqual(now.notes);
    },
  );

  test("parameters that are no drill are named", () => {
    const exercise = made("hole-jumps", {
      jump: 2,
      breath: "draw",
      direction: "up",
      repeats: 1,
      notesPerBeat: 2,
    });
    const broken = { ...exercise, parameters: { ...exercise.parameters, jump: 9 } };
    expect(drillOfExercise(broken)).toEqual({
      kind: "unreadable",
      reason: expect.stringMatching(/^parameters\.jump: /),
    });
  });
});
