import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { renamed } from "../../../core/pitch/note-naming.ts";

describe("note names in other languages", () => {
  // [P] German: H is the note below C, B the one below it; -is a semitone up, -es down, E and A lose their vowel.
  test.each([
    ["C", "C"],
    ["B", "H"],
    ["Bb", "B"],
    ["Bbb", "Heses"],
    ["B#", "His"],
    ["F#4", "Fis4"],
    ["F##", "Fisis"],
    ["Eb5", "Es5"],
    ["Ebb", "Eses"],
    ["Ab", "As"],
    ["Abb", "Asas"],
    ["Db", "Des"],
    ["Cb", "Ces"],
    ["C-1", "C-1"],
  ])("%s is %s in German", (name, german) => {
    expect(renamed(name, "german")).toBe(german);
  });

  // [P] the syllables as fixed names of the notes, Si for B.
  test.each([
    ["C4", "Do4"],
    ["F#4", "Fa♯4"],
    ["Bb", "Si♭"],
    ["G", "Sol"],
    ["Ebb3", "Mi♭♭3"],
  ])("%s is %s in syllables", (name, syllables) => {
    expect(renamed(name, "syllables")).toBe(syllables);
  });

  test("English letters stay as they are, and what is no note in any naming", () => {
    expect(renamed("F#4", "letters")).toBe("F#4");
    for (const text of ["", "H", "?", "b7", "4", "Fb#"]) expect(renamed(text, "german")).toBe(text);
  });

  test("no two of the 35 names share a name", () => {
    const names = [..."CDEFGAB"].flatMap((letter) =>
      ["bb", "b", "", "#", "##"].map((signs) => letter + signs),
    );
    fc.assert(
      fc.property(fc.constantFrom("syllables", "german"), fc.constantFrom(...names), (naming, one) => {
        const alike = names.filter((name) => renamed(name, naming) === renamed(one, naming));
        expect(alike).toEqual([one]);
      }),
    );
  });
});
