import { Interval, Note } from "tonal";
import { describe, expect, test } from "vitest";
import { degreeOf, degreeOfName, isSevenDegrees, readDegrees } from "../../../core/pitch/degrees.ts";
import {
  MODE_NAMES,
  type Mode,
  modeDegrees,
  readMode,
  signatureMode,
  spellingOf,
  spellMode,
} from "../../../core/pitch/modes.ts";
import { KEY_NAMES, pitchClassOfName } from "../../../core/pitch/note-names.ts";
import { spellDegree } from "../../../core/pitch/spelling.ts";
import { intervalOfDegree } from "../../support/tonal-degrees.ts";

const DEGREES = ["bb", "b", "", "#"].flatMap((sign) => [1, 2, 3, 4, 5, 6, 7].map((n) => `${sign}${n}`));
const HOMES = [...KEY_NAMES, "C#", "D#", "G#", "A#", "Gb", "Cb", "Fb", "E#", "B#"];

function degree(name: string) {
  const read = degreeOfName(name);
  if (read === null) throw new Error(`"${name}" is a degree`);
  return read;
}

function set(text: string): Mode {
  const read = readMode(text);
  if (read.kind === "unreadable") throw new Error(read.reason);
  return read.mode;
}

describe("the name of a degree on a home note", () => {
  // Transposed by tonal 6.4.3 [X]: a degree is an interval above the home note.
  test.each(HOMES)("above %s is what tonal calls the note of that interval", (home) => {
    let compared = 0;
    for (const name of DEGREES) {
      const theirs = Note.transpose(home, intervalOfDegree(name));
      const ours = spellDegree(home, degree(name));
      expect(pitchClassOfName(ours), name).toBe(Note.chroma(theirs));
      if (Note.get(theirs).acc.length > 2) continue;
      expect(ours, name).toBe(theirs);
      compared++;
    }
    expect(compared).toBeGreaterThan(15);
  });

  test("has at most two accidentals, for a staff can show no more", () => {
    // [calc] the 7 of Fb is Eb; two semitones lower it would be E with three flats, which sounds C# or Db.
    expect(Note.transpose("Fb", intervalOfDegree("bb7"))).toBe("Ebbb");
    expect(spellDegree("Fb", degree("bb7"))).toBe("Db");
  });

  test("a note between those of the mode is called by its usual degree, so that b7 is never written as a raised 6", () => {
    expect(spellingOf("C", "major")).toEqual("C Db D Eb E F Gb G Ab A Bb B".split(" ")); // [calc] 1 b2 2 b3 3 4 b5 5 b6 6 b7 7
    expect(spellingOf("G", "mixolydian")[3]).toBe("Bb"); // [calc] b3 above G: the third letter, a semitone below B
    expect(spellingOf("C", "lydian")[6]).toBe("F#"); // the mode's own #4
  });

  test.each(MODE_NAMES)("the notes of %s have the names of the scale among all twelve", (mode) => {
    for (const home of KEY_NAMES) {
      const all = spellingOf(home, mode);
      expect(modeDegrees(mode).map((one) => all[one.aboveHome])).toEqual(spellMode(home, mode));
    }
  });
});

describe("a set of degrees", () => {
  test("is one text whatever the order, the commas and the repeats it was typed with", () => {
    expect(set("b7 5 1, b3 4 1")).toBe("1 b3 4 5 b7");
    expect(modeDegrees(set("b7 5 1 b3 4")).map((one) => one.aboveHome)).toEqual([0, 3, 5, 7, 10]); // [calc]
    expect(spellMode("E", set("1 b3 4 5 b7"))).toEqual(["E", "G", "A", "B", "D"]);
  });

  test.each([
    ["1 2 x3", '"x3" is not a degree; degrees are 1 to 7, with b, bb or # before them'],
    ["1 2 8", '"8" is not a degree; degrees are 1 to 7, with b, bb or # before them'],
    ["1 #2 b3", '"#2" and "b3" are the same note'],
    ["", 'there is no degree in it; a set is such as "1 2 b3 4 5 6 b7"'],
  ])("%j is refused by the word that is wrong", (text, reason) => {
    expect(readDegrees(text)).toEqual({ kind: "unreadable", reason });
  });

  test("a mode is read by name or by degrees, and a wrong one is told what there is", () => {
    expect(set("Harmonic-Minor")).toBe("harmonic minor");
    expect(readMode("1 2 z4")).toEqual({
      kind: "unreadable",
      reason: expect.stringMatching(/^"z4" is not a/),
    });
    expect(readMode("happy")).toEqual({
      kind: "unreadable",
      reason: expect.stringMatching(/^"happy" is not known; there are major, .*or degrees such as/),
    });
  });

  test("is written in the signature of the mode that holds most of it", () => {
    expect(signatureMode(set("1 2 3 #4 5"))).toBe("lydian");
    expect(signatureMode(set("1 b2 3 4 5 b6 b7"))).toBe("phrygian"); // [calc] six of its seven; minor holds five
    expect(signatureMode(set("1 2 3 5 6"))).toBe("major");
    expect(signatureMode(set("1 b3 4 5 b7"))).toBe("minor");
  });

  test("has thirds only where each of the degrees 1 to 7 is there once", () => {
    const seven = (text: string) => isSevenDegrees(modeDegrees(set(text)));
    expect(seven("1 2 b3 #4 5 6 b7")).toBe(true);
    expect(seven("1 2 b3 3 4 5 6")).toBe(false);
    expect(seven("1 2 3 4 5 6")).toBe(false);
  });

  test("every degree has an interval tonal knows, as wide as we count it", () => {
    for (const name of DEGREES) {
      const semitones = Interval.semitones(intervalOfDegree(name)) ?? Number.NaN;
      expect(degree(name).aboveHome).toBe((semitones + 12) % 12);
      expect(degreeOf(degree(name).aboveHome, [degree(name)]).name).toBe(name);
    }
  });
});
