import { Scale } from "tonal";
import { describe, expect, test } from "vitest";
import {
  degreeOf,
  degreesOfText,
  MODE_NAMES,
  modeDegrees,
  modeOfName,
  SEVEN_MODES,
  signatureMode,
  spellMode,
} from "../../../core/pitch/modes.ts";
import { KEY_NAMES, midiOfName, noteName, pitchClassOfName } from "../../../core/pitch/note-names.ts";
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

  // Spelled by tonal 6.4.3 under its own names of the scales [X].
  const TONAL_NAMES = {
    major: "major",
    dorian: "dorian",
    phrygian: "phrygian",
    lydian: "lydian",
    mixolydian: "mixolydian",
    minor: "aeolian",
    locrian: "locrian",
    "harmonic minor": "harmonic minor",
    "major pentatonic": "major pentatonic",
    "minor pentatonic": "minor pentatonic",
    blues: "blues",
  } as const;

  test.each(MODE_NAMES)("%s is spelled on every home note as tonal spells it", (mode) => {
    for (const home of KEY_NAMES) {
      expect(spellMode(home, mode)).toEqual(Scale.get(`${home} ${TONAL_NAMES[mode]}`).notes);
      expect(spellMode(home, mode).length).toBe(modeDegrees(mode).length);
    }
  });

  test("the seven modes have seven different letters each", () => {
    expect(spellMode("D", "mixolydian")).toEqual(["D", "E", "F#", "G", "A", "B", "C"]);
    for (const mode of SEVEN_MODES)
      expect(new Set(spellMode("G", mode).map((name) => name.charAt(0))).size).toBe(7);
  });

  // Common knowledge of the four other scales [P]; the same intervals in tonal 6.4.3 [X].
  test.each([
    ["harmonic minor", ["1", "2", "b3", "4", "5", "b6", "7"], [0, 2, 3, 5, 7, 8, 11]],
    ["major pentatonic", ["1", "2", "3", "5", "6"], [0, 2, 4, 7, 9]],
    ["minor pentatonic", ["1", "b3", "4", "5", "b7"], [0, 3, 5, 7, 10]],
    ["blues", ["1", "b3", "4", "b5", "5", "b7"], [0, 3, 5, 6, 7, 10]],
  ] as const)("%s has its degrees", (mode, names, steps) => {
    expect(modeDegrees(mode).map((degree) => degree.name)).toEqual(names);
    expect(modeDegrees(mode).map((degree) => degree.aboveHome)).toEqual(steps);
  });

  test("a scale is written in the signature of the mode that holds most of it", () => {
    expect(signatureMode("harmonic minor")).toBe("minor");
    expect(signatureMode("major pentatonic")).toBe("major");
    expect(signatureMode("lydian")).toBe("lydian");
    expect(modeOfName("harmonic-minor")).toBe("harmonic minor");
  });
});

describe("degrees by name", () => {
  test("any set of degrees is read, in any order, each once", () => {
    const read = degreesOfText("5, 1 b3 #4 1");
    expect(read?.map((degree) => [degree.name, degree.aboveHome])).toEqual([
      ["1", 0], // [calc] counted in the major scale, one down for a flat, one up for a sharp
      ["b3", 3],
      ["#4", 6],
      ["5", 7],
    ]);
  });

  test.each(["", "  ", "8", "1 x", "b0", "bbb3"])("%j is not a set of degrees", (text) => {
    expect(degreesOfText(text)).toBeNull();
  });

  test("a note of the mode has the mode's name for it, another the usual one", () => {
    expect(degreeOf(6, modeDegrees("lydian")).name).toBe("#4");
    expect(degreeOf(6, modeDegrees("major")).name).toBe("b5");
    expect(degreeOf(-2).name).toBe("b7"); // [calc] -2 + 12 = 10
  });
});
