import { describe, expect, test } from "vitest";
import type { Tune } from "../../../../core/tune/tune.ts";
import { writeAbc } from "../../../../core/tune/write-abc.ts";
import { music, names, quavers, tuneOf, words } from "./read.ts";

/** Kind and notes of every ornament of every note. */
const ornaments = (tune: Tune) =>
  tune.notes.map((note) =>
    note.ornaments.map(({ kind, notes }) => [kind, ...notes.map(({ name }) => name)].join(" ")),
  );

describe("grace notes (4.12) that no note follows end the note before them [F 47]", () => {
  test("at the end of a tune", () => {
    const tune = music("A2 B2 c2 d2 {ge}|]");
    expect(names(tune)).toBe("A4 B4 C5 D5");
    expect(quavers(tune)).toEqual([2, 2, 2, 2]);
    expect(ornaments(tune)).toEqual([[], [], [], ["after-grace G5 E5"]]);
  });

  test("before a rest and before bars of rest, where abc2midi 4.84 plays them as notes of the tune [X]", () => {
    const tune = music("A2 {g}z2 B2 {a}x2|c8{b}|Z2|");
    expect(names(tune)).toBe("A4 B4 C5");
    expect(ornaments(tune)).toEqual([["after-grace G5"], ["after-grace A5"], ["after-grace B5"]]);
  });

  test("before the end of a repeat, each time", () => {
    const tune = music("|:c4 d4{e}:|f8|]");
    expect(names(tune)).toBe("C5 D5 C5 D5 F5");
    expect(ornaments(tune)).toEqual([[], ["after-grace E5"], [], ["after-grace E5"], []]);
  });

  test("after a note tied over, and there belong to the whole of it", () => {
    expect(ornaments(music("d8-|d8{e}|]"))).toEqual([["after-grace E5"]]);
  });

  test("and without any note they are named as left out", () => {
    expect(words(music("{g}z4 z4|c8|"))).toEqual(["grace notes have no note to belong to and are left out"]);
  });
});

describe("grace notes that a note follows", () => {
  test("belong to it over a bar line, a line end, a repeat's beginning and a field", () => {
    expect(ornaments(music("A8{g}|B8{g}|\nc8{g}|:[K:D]d8:|")).slice(0, 4)).toEqual([
      [],
      ["grace G5"],
      ["grace G5"],
      ["grace G5"],
    ]);
  });

  test("have the accidentals of the bar they are written in", () => {
    const tune = music("^f8{f}|f8|");
    expect(names(tune)).toBe("F#5 F5");
    expect(ornaments(tune)).toEqual([[], ["grace F#5"]]);
  });

  test("of two groups are one", () => {
    expect(ornaments(music("{a}{bc'}A8|"))).toEqual([["grace A5 B5 C6"]]);
  });
});

test("grace notes that end a note are written after it and come back", () => {
  const tune = music("|:A2{g}z2 B4{a}:|c4 d4{e}|]");
  expect(writeAbc(tune).split("\n").slice(-3, -1)).toEqual(["|: A2{g} z2 B4{a} :|", "c4 d4{e} |]"]);
  expect(ornaments(tuneOf(writeAbc(tune)))).toEqual(ornaments(tune));
});
