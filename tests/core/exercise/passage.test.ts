import { expect, test } from "vitest";
import { lengthOf, onsetOf } from "../../../core/exercise/exercise.ts";
import { passageOf } from "../../../core/exercise/passage.ts";
import { exerciseOf } from "../../support/drills.ts";

const exercise = exerciseOf();

test("a passage begins at once, with the notes and distances of the whole", () => {
  const passage = passageOf(exercise, 5, 8);
  expect(passage.notes.map((note) => note.index)).toEqual([5, 6, 7, 8]);
  const shift = onsetOf(exercise, exercise.notes[5] ?? never());
  for (const note of passage.notes) {
    const whole = exercise.notes[note.index] ?? never();
    expect(onsetOf(passage, note)).toBeCloseTo(onsetOf(exercise, whole) - shift, 9);
    expect(note.midi).toBe(whole.midi);
  }
});

test("at half speed every note lasts twice as long and sounds the same", () => {
  const slow = passageOf(exercise, 0, 14, 0.5);
  for (const note of slow.notes) {
    const whole = exercise.notes[note.index] ?? never();
    expect(lengthOf(slow, note)).toBeCloseTo(2 * lengthOf(exercise, whole), 9);
    expect(onsetOf(slow, note)).toBeCloseTo(2 * onsetOf(exercise, whole), 9);
    expect([note.midi, note.targetCents]).toEqual([whole.midi, whole.targetCents]);
  }
});

function never(): never {
  throw new Error("the note is not there");
}
