import ABCJS from "abcjs";
import { describe, expect, test } from "vitest";
import { exerciseToAbc, staffLines } from "../../../core/exercise/exercise-abc.ts";
import { bpm } from "../../../core/units.ts";
import { exerciseOf } from "../../support/drills.ts";
import { harp } from "../../support/harps.ts";

/** Pitches an ABC text sounds, as abcjs 6.7.2 reads it [X]. */
function pitches(abc: string): number[] {
  const tune = ABCJS.parseOnly(abc)[0];
  if (tune === undefined) throw new Error("no tune");
  expect(tune.warnings ?? []).toEqual([]);
  const sequence = tune.setUpAudio({ chordsOff: true }).tracks as unknown as {
    cmd: string;
    pitch: number;
  }[][];
  return sequence.flatMap((track) =>
    track.filter((event) => event.cmd === "note").map((event) => event.pitch),
  );
}

describe("an exercise on the staff", () => {
  const cases = [
    exerciseOf(),
    exerciseOf({ start: "lowest", octaves: 2, notesPerBeat: 2 }),
    exerciseOf({ harp: harp("Ab"), position: 1, mode: "major", notesPerBeat: 3 }),
    exerciseOf({
      harp: harp("F#"),
      position: 2,
      mode: "mixolydian",
      tempo: { bpm: bpm(100), noteValue: "3/8" },
      notesPerBeat: 3,
    }),
    exerciseOf({
      harp: harp("Bb"),
      position: 3,
      mode: "dorian",
      tempo: { bpm: bpm(60), noteValue: "1/2" },
      notesPerBeat: 4,
    }),
  ];
  cases.push(exerciseOf({ octaves: 2, notesPerBeat: 3 }));
  // Scales without a signature of their own: a raised seventh, and two forms of the fifth in one bar.
  const everything = { bends: true, overbends: true };
  cases.push(exerciseOf({ mode: "harmonic minor", abilities: everything }));
  cases.push(exerciseOf({ mode: "blues", abilities: everything }));
  cases.push(exerciseOf({ mode: "major pentatonic", position: 1, abilities: everything }));
  test.each(cases)("is read back by an ABC program with the same pitches (%#)", (exercise) => {
    expect(pitches(exerciseToAbc(exercise))).toEqual(exercise.notes.map((note) => note.midi));
  });

  test("is written in the mode's own signature, so that a plain scale shows no accidental", () => {
    const body = exerciseToAbc(exerciseOf()).split("K:")[1] ?? "";
    expect(body).toMatch(/^Dmix\n/);
    expect(body).not.toMatch(/[\^_=]/);
  });

  test.each(cases)(
    "falls into lines that together hold every note once, each readable alone (%#)",
    (exercise) => {
      const lines = staffLines(exercise, 2);
      expect(lines.flatMap((line) => pitches(line.abc))).toEqual(exercise.notes.map((note) => note.midi));
      expect(lines.map((line) => line.from)).toEqual([0, ...lines.slice(0, -1).map((line) => line.to)]);
    },
  );
});
