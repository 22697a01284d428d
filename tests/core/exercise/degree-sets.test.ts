import { Note } from "tonal";
import { describe, expect, test } from "vitest";
import { exerciseToAbc } from "../../../core/exercise/exercise-abc.ts";
import { checkExercise } from "../../../core/exercise/exercise-json.ts";
import { type Mode, readMode } from "../../../core/pitch/modes.ts";
import { intervalOfDegree } from "../../support/tonal-degrees.ts";
import { degrees, made, names, reasonAgainst, tabs } from "./make.ts";

function set(text: string): Mode {
  const read = readMode(text);
  if (read.kind === "unreadable") throw new Error(read.reason);
  return read.mode;
}

const scale = { octaves: 1, start: "easiest", direction: "up", notesPerBeat: 1 } as const;
const quavers = { notesPerBeat: 2 } as const;
const clone = (value: unknown) => JSON.parse(JSON.stringify(value));

describe("drills in any set of degrees", () => {
  test("five notes of second position are walked from home note to home note, spelled as tonal spells them", () => {
    const exercise = made("scale", { ...scale, position: 2, mode: set("1 2 4 5 b7") });
    expect(degrees(exercise)).toBe("1 2 4 5 b7 1");
    // [X] tonal 6.4.3 for the names; the easiest octave of second position is 6 blow to 9 blow (trade facts 4) [calc].
    const theirs = ["1", "2", "4", "5", "b7", "1"].map((one) => Note.transpose("G", intervalOfDegree(one)));
    expect(exercise.notes.map((note) => note.noteName.replace(/\d/, ""))).toEqual(theirs);
    expect(tabs(exercise)).toBe("6 -6 7 -8 -9 9");
    expect(exercise.title).toBe("G (1 2 4 5 b7) scale, one octave, up");
  });

  test("a set without the home note begins on its first degree", () => {
    // [calc] 2 3 5 6 of C are D E G A; the first octave from D to D in plain notes lies from 4 draw to 8 draw.
    const exercise = made("scale", { ...scale, mode: set("6 5 3 2") });
    expect(degrees(exercise)).toBe("2 3 5 6 2");
    expect(names(exercise)).toBe("D5 E5 G5 A5 D6");
  });

  test("a bend beside them is called by its degree too: three draw bent a semitone is b7, not a raised 6", () => {
    const bend = {
      figure: "hold",
      holdBeats: 2,
      restBeats: 2,
      repeats: 1,
      targetShown: true,
      seed: 1,
    } as const;
    const exercise = made("bend", { ...bend, hole: 3, bentSemitones: 1, mode: set("1 2 3 5 6") });
    expect([exercise.notes[0]?.noteName, exercise.notes[0]?.degree]).toEqual(["Bb4", "b7"]); // trade facts 2: 3 draw bends to Bb4
  });

  test("chords and intervals need each of the degrees 1 to 7, in thirds where there is a chord", () => {
    const chord = { ...quavers, size: "triad", octaves: 1, start: "easiest", direction: "up" } as const;
    const on = (mode: Mode, degree: string) => reasonAgainst("arpeggio", { ...chord, mode, degree });
    expect(on(set("1 2 3 5 6"), "1")).toMatch(/seven-note mode; C \(1 2 3 5 6\) has 5 notes$/);
    expect(on(set("1 2 b3 3 4 5 6"), "1")).toMatch(/does not have each of the degrees 1 to 7$/);
    // [calc] on 7 of this set stand 7, b2 and 4: two semitones and four, which is no third.
    expect(on(set("1 b2 3 4 5 b6 7"), "7")).toMatch(/^the notes on 7 .* do not stand in thirds/);
    const thirds = { ...scale, figure: "thirds" } as const;
    expect(reasonAgainst("pattern", { ...thirds, mode: set("1 2 3 4 5 6") })).toMatch(/has 6 notes$/);
    expect(made("arpeggio", { ...chord, mode: set("1 2 3 4 5 6 b7"), degree: "4" }).title).toMatch(/^IV /);
  });

  test("are written in the nearest signature, what differs as accidentals", () => {
    const exercise = made("scale", { ...scale, mode: set("1 2 3 #4 5 6 b7"), start: "lowest" });
    const [head = "", body = ""] = exerciseToAbc(exercise).split(/\n(?=[^\n]*$)/);
    expect(head).toMatch(/K:Cmix$/); // [calc] mixolydian and lydian hold six of seven each; mixolydian is the commoner
    expect(body).toContain("^F");
    expect(body).not.toContain("^A");
  });
});

describe("exercise files of degrees", () => {
  const exercise = made("scale", { ...scale, position: 2, mode: set("1 2 4 5 b7") });

  test("are read back the same", () => {
    expect(checkExercise(clone(exercise))).toEqual({ kind: "exercise", exercise });
    expect([exercise.version, exercise.mode]).toEqual([4, "1 2 4 5 b7"]);
  });

  test("of version 1, in modes with names, are still read", () => {
    const named = made("scale", scale);
    expect(checkExercise({ ...clone(named), version: 1 })).toEqual({ kind: "exercise", exercise: named });
  });

  test.each([
    ["1 2 x3 5", /^mode: "x3" is not a degree; degrees are 1 to 7/],
    ["1 b3 #2", /^mode: "b3" and "#2" are the same note$/],
    ["sunny", /^mode: "sunny" is not known; there are major, /],
    [7, /^mode: /],
  ])("with the mode %j say what is wrong", (mode, reason) => {
    const read = checkExercise({ ...clone(exercise), mode });
    expect(read).toEqual({ kind: "unreadable", reason: expect.stringMatching(reason) });
  });
});
