import { expect, test } from "vitest";
import { harpInKey } from "../../core/instrument/harp.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { cents } from "../../core/units.ts";
import { shapeInWords } from "../../renderer/ui/signs.tsx";
import { exerciseOf } from "../support/drills.ts";
import { heardNote, listeningOf } from "../support/listenings.ts";

test("a mark says what is the player's and what is the reed's", () => {
  const harp = harpInKey(STANDARD_LAYOUT, "G");
  if (harp === null) throw new Error("G is a key");
  const plain = exerciseOf();
  const reedOffsets = plain.harp.layout.holes.map(() => ({ blow: cents(9), draw: cents(9) }));
  const exercise = { ...plain, harp: { ...plain.harp, reedOffsets } };
  // [calc] every note 13 cents sharp on reeds that are 9 sharp by themselves: the player's are 4.
  const notes = exercise.notes.slice(0, 5).map((note, n) => heardNote(2 + n * 0.67, note.midi + 0.13));
  const attempt = scoreTake(exercise, listeningOf(notes, 20));
  const plainNotes = attempt.marks.filter(
    ({ verdict, action }) => verdict === "hit" && action.technique === "plain",
  );
  expect(plainNotes.length).toBeGreaterThan(2);
  for (const mark of plainNotes) expect(shapeInWords(mark)).toContain("you +4.0 cents, the reed +9.0 cents");
  // Marked again it is the same; without what was measured the whole of it is the player's.
  expect(scoreTake(exercise, listeningOf(notes, 20))).toEqual(attempt);
  const before = scoreTake(plain, listeningOf(notes, 20)).marks.find(({ verdict }) => verdict === "hit");
  expect(before?.cents).toBeCloseTo(13, 6);
  expect(before?.reedCents).toBeNull();
});
