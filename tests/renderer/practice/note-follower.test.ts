import { describe, expect, test } from "vitest";
import { onsetOf, targetMidi } from "../../../core/exercise/exercise.ts";
import { NoteFollower } from "../../../renderer/practice/note-follower.ts";
import { exerciseOf } from "../../support/drills.ts";

const exercise = exerciseOf();
/** Readings come about this often. */
const STEP_SECONDS = 0.05;

const pitchOf = (index: number) => {
  const note = exercise.notes[index];
  if (note === undefined) throw new Error(`no note ${index}`);
  return targetMidi(exercise, note);
};

/** A follower that has heard these notes, null for silence, each for a fifth of a second. */
function followed(...heard: readonly (number | null)[]) {
  const follower = new NoteFollower(exercise);
  let at = 0;
  for (const midi of heard) {
    for (let n = 0; n < 4; n++) {
      at += STEP_SECONDS;
      follower.hear(at, midi);
    }
  }
  return { follower, at };
}

describe("following a player without a beat", () => {
  test("nothing is followed before the first note, however long that takes", () => {
    const { follower, at } = followed(null, null, null, 40);
    expect(follower.noteIndex).toBeNull();
    expect(follower.writtenSeconds(at)).toBeNull();
  });

  test("goes on with each note at its own time, and shows where on the page that is", () => {
    const { follower, at } = followed(pitchOf(0), null, null, null, pitchOf(1));
    expect(follower.noteIndex).toBe(1);
    const second = exercise.notes[1];
    if (second === undefined) throw new Error("a second note");
    expect(follower.writtenSeconds(at)).toBeGreaterThanOrEqual(onsetOf(exercise, second));
    expect(follower.writtenSeconds(at + 60)).toBeLessThan(onsetOf(exercise, second) + 60 / 90);
  });

  test("passes over one note left out and one played wrong", () => {
    expect(followed(pitchOf(0), pitchOf(2)).follower.noteIndex).toBe(2);
    expect(followed(pitchOf(0), 40, pitchOf(2)).follower.noteIndex).toBe(2);
  });

  test("one stray reading moves nothing", () => {
    const { follower, at } = followed(pitchOf(0));
    follower.hear(at + STEP_SECONDS, pitchOf(1));
    expect(follower.noteIndex).toBe(0);
  });

  test("knows the silence behind the last note, and no other", () => {
    const last = exercise.notes.length - 1;
    const all = exercise.notes.map((note) => pitchOf(note.index));
    const { follower, at } = followed(...all, null);
    expect(follower.noteIndex).toBe(last);
    expect(follower.silentAtEnd(at)).toBeCloseTo(3 * STEP_SECONDS, 6);
    const early = followed(pitchOf(0), null);
    expect(early.follower.silentAtEnd(early.at)).toBe(0);
  });
});
