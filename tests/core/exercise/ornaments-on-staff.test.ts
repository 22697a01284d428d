import { describe, expect, test } from "vitest";
import { type OrnamentsOf, staffLines } from "../../../core/exercise/exercise-abc.ts";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import { midi } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";

const exercise = exerciseOf();
const grace = (kind: string, ...names: string[]) => ({
  kind,
  notes: names.map((name) => ({ name, midi: midi(60) })),
});
const on =
  (index: number, ...ornaments: ReturnType<OrnamentsOf>): OrnamentsOf =>
  (note) =>
    note.index === index ? ornaments : [];

/** The whole exercise on one line. */
const abcWith = (ornaments?: OrnamentsOf) => staffLines(exercise, 1000, ornaments)[0]?.abc ?? "";

describe("ornaments on the staff of an exercise", () => {
  test("grace notes stand before their note, those that end it behind it, signs directly at it [F ABC 2.1, 4.12 and 4.14]", () => {
    const plain = abcWith();
    const [first = ""] = /[A-Ga-g][,']*\d+/.exec(plain.split("\n").at(-1) ?? "") ?? [];
    const graced = abcWith(on(0, grace("grace", "D5", "E5"), { kind: "roll", notes: [] }));
    expect(graced).toMatch(/\{de\}(?:"[^"]*")?~/);
    expect(graced).toContain(`~${first}`);
    expect(abcWith(on(0, grace("after-grace", "D5")))).toContain(`${first}{d}`);
    expect(abcWith(on(0, { kind: "trill", notes: [] }))).toContain(`!trill!${first}`);
  });

  test("without them the line is the one it was, and with them the notes of the tune are the same", () => {
    expect(abcWith(() => [])).toBe(abcWith());
    const notesOf = (abc: string) => {
      const read = readAbc(`${abc.replace("\n", "\nT:Line\n")}\n`);
      if (read.kind !== "tunes") throw new Error(read.reason);
      return read.tunes[0]?.notes.map((note) => [note.midi, note.startTicks, note.lengthTicks]);
    };
    const many: OrnamentsOf = ({ index }) =>
      index % 2 === 0 ? [grace("grace", "C#5")] : [{ kind: "roll", notes: [] }, grace("after-grace", "B4")];
    expect(notesOf(abcWith(many))).toHaveLength(exercise.notes.length);
    expect(notesOf(abcWith(many))).toEqual(notesOf(abcWith()));
  });
});
