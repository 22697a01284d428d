import { Scale } from "tonal";
import { describe, expect, test } from "vitest";
import { MODE_NAMES, modeDegrees, modeOfName, spellMode } from "../../../core/pitch/modes.ts";
import { midiOfName, noteName, pitchClassOfName } from "../../../core/pitch/note-names.ts";
import { midi } from "../../../core/units.ts";

describe("note names", () => {
  test.each([
    ["C", 0],
    ["F#", 6],
    ["Gb", 6],
    ["Bb", 10],
    ["b", 11],
    ["Cb", 11],
  ])("%s is pitch class %d", (name, expected) => {
    expect(pitchClassOfName(name)).toBe(expected); // [calc] letters and accidentals counted from C
  });

  test.each(["", "H", "G4", "F#b", "major"])("%j is not the name of a note", (name) => {
    expect(pitchClassOfName(name)).toBeNull();
  });

  test("middle C is C4, number 60, and names are spelled like the scale they stand in", () => {
    expect(midiOfName("C4")).toBe(60); // MIDI 1.0, middle C = 60 [F]
    expect(noteName(midi(66), ["G", "A", "B", "C", "D", "E", "F#"])).toBe("F#4");
    expect(noteName(midi(66), ["Db", "Eb", "F", "Gb", "Ab", "Bb", "C"])).toBe("Gb4");
    expect(noteName(midi(59), ["Gb", "Ab", "Bb", "Cb"])).toBe("Cb4"); // [calc] Cb4 sounds B3
    expect(noteName(midi(60), ["C#", "E#", "B#"])).toBe("B#3"); // [calc] B#3 sounds C4
  });
});

describe("modes", () => {
  // Semitones above the home note, common knowledge of the seven modes as in the fact sheet, section 9 (signature shifts) [F 47].
  test.each([
    ["major", [0, 2, 4, 5, 7, 9, 11], ["1", "2", "3", "4", "5", "6", "7"]],
    ["mixolydian", [0, 2, 4, 5, 7, 9, 10], ["1", "2", "3", "4", "5", "6", "b7"]],
    ["dorian", [0, 2, 3, 5, 7, 9, 10], ["1", "2", "b3", "4", "5", "6", "b7"]],
    ["lydian", [0, 2, 4, 6, 7, 9, 11], ["1", "2", "3", "#4", "5", "6", "7"]],
    ["locrian", [0, 1, 3, 5, 6, 8, 10], ["1", "b2", "b3", "4", "b5", "b6", "b7"]],
  ] as const)("%s has its degrees", (mode, steps, names) => {
    const degrees = modeDegrees(mode);
    expect(degrees.map((degree) => degree.aboveHome)).toEqual(steps);
    expect(degrees.map((degree) => degree.name)).toEqual(names);
  });

  test("the older names of major and minor are understood", () => {
    expect(modeOfName("Ionian")).toBe("major");
    expect(modeOfName("aeolian")).toBe("minor");
    expect(modeOfName("sour")).toBeNull();
  });

  test("every mode is spelled with seven different letters, as tonal 6.4.3 spells it [X]", () => {
    expect(spellMode("D", "mixolydian")).toEqual(["D", "E", "F#", "G", "A", "B", "C"]);
    expect(spellMode("G", "mixolydian")).toEqual(Scale.get("G mixolydian").notes);
    for (const mode of MODE_NAMES)
      expect(new Set(spellMode("G", mode).map((name) => name.charAt(0))).size).toBe(7);
  });
});
