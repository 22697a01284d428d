import { Chord } from "tonal";
import { describe, expect, test } from "vitest";
import { chordOn } from "../../../core/exercise/chords.ts";
import type { PatternFigure } from "../../../core/exercise/drill-spec.ts";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { modeDegrees, SEVEN_MODES } from "../../../core/pitch/modes.ts";
import { degrees, made, names, reasonAgainst, specOf, starts, tabs } from "./make.ts";

const quavers = { notesPerBeat: 2 } as const;
const oneOctave = { octaves: 1, start: "easiest" } as const;

describe("arpeggios", () => {
  test("the chord on the home note of second position is found 2, 3 and 4 draw and 6 blow", () => {
    // [calc] G B D on a C harp: reeds 2 draw G4, 3 draw B4, 4 draw D5, 6 blow G5 (trade facts 1).
    const chord = {
      ...quavers,
      degree: "1",
      size: "triad",
      octaves: 1,
      start: "lowest",
      direction: "up",
    } as const;
    expect(tabs(made("arpeggio", { ...chord, position: 2, mode: "mixolydian" }))).toBe("-2 -3 -4 6");
  });

  test("a seventh chord on the fifth of C major is G B D F and no other", () => {
    const exercise = made("arpeggio", {
      ...quavers,
      ...oneOctave,
      degree: "5",
      size: "seventh",
      direction: "both",
    });
    expect(new Set(exercise.notes.map((note) => note.noteName.charAt(0)))).toEqual(new Set("GBDF"));
    expect(exercise.title).toContain("V7");
  });

  test("chords are as large and as small as tonal says they are", () => {
    // [X] tonal 6.4.3, Chord.detect of the notes in thirds.
    const kinds: Record<string, RegExp> = { M: /^[IV]+$/, m: /^[iv]+$/, dim: /^[iv]+°$/, aug: /^[IV]+\+$/ };
    let seen = 0;
    for (const mode of [...SEVEN_MODES, "harmonic minor" as const]) {
      const steps = modeDegrees(mode);
      for (let root = 0; root < 7; root++) {
        const chord = chordOn(steps, root, "triad");
        if (chord === null) throw new Error(`${mode} has a chord on each of its degrees`);
        const letters = ["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"];
        const above = (name: string) => steps.find((degree) => degree.name === name)?.aboveHome ?? 0;
        const notes = chord.degrees.map((name) => letters[above(name)] ?? "C");
        const type = (Chord.detect(notes, { assumePerfectFifth: false })[0] ?? "").replace(
          notes[0] ?? "",
          "",
        );
        expect(chord.numeral).toMatch(kinds[type] ?? /never/);
        seen++;
      }
    }
    expect(seen).toBe(56);
  });

  test("are not built on a scale that has no thirds in every step", () => {
    const reason = reasonAgainst("arpeggio", {
      ...quavers,
      ...oneOctave,
      mode: "major pentatonic",
      degree: "1",
      size: "triad",
      direction: "up",
    });
    expect(reason).toBe("chords are built in thirds of a seven-note mode; C major pentatonic has 5 notes");
  });
});

describe("progressions by nearest notes", () => {
  const triplets = { notesPerBeat: 3, figure: "up", start: "easiest", repeats: 1 } as const;

  test("I-IV-V-I in C goes from C E G to C F A, B D G and back", () => {
    // [calc] moves of the nearest inversion: C E G -> C F A 0+1+2 = 3 semitones (F A C: 5+5+5); -> B D G 1+3+2 = 6.
    const exercise = made("progression", { ...triplets, numerals: "I-IV-V-I" });
    expect(names(exercise)).toBe("C5 E5 G5 C5 F5 A5 B4 D5 G5 C5 E5 G5");
  });

  test("ii-V-I in C and i-VII-VI-VII in A minor hold the chords of those names", () => {
    const twoFive = made("progression", { ...triplets, numerals: "ii-V-I" });
    const roots = [0, 3, 6].map(
      (at) => new Set(twoFive.notes.slice(at, at + 3).map((note) => note.noteName.charAt(0))),
    );
    expect(roots).toEqual([new Set("DFA"), new Set("GBD"), new Set("CEG")]);
    const minor = made("progression", {
      ...triplets,
      numerals: "i-VII-VI-VII",
      position: 4,
      mode: "minor",
      abilities: { bends: true, overbends: true },
    });
    const chords = [0, 3, 6, 9].map(
      (at) => new Set(minor.notes.slice(at, at + 3).map((note) => note.noteName.charAt(0))),
    );
    expect(chords).toEqual([new Set("ACE"), new Set("GBD"), new Set("FAC"), new Set("GBD")]);
  });

  test("each chord begins on a beat, and what is left of its last beat is rest", () => {
    const exercise = made("progression", { ...triplets, notesPerBeat: 2, numerals: "I-IV" });
    expect(starts(exercise)).toEqual([0, 0.5, 1, 2, 2.5, 3]); // [calc] three quavers fill one beat and a half
  });

  test("a chord the mode does not have is refused with the one it has", () => {
    const mixolydian = { ...triplets, position: 2, mode: "mixolydian" } as const;
    // [calc] D F A above G mixolydian's fifth: a minor third.
    expect(reasonAgainst("progression", { ...mixolydian, numerals: "I-V-I" })).toBe(
      "the chord there in G mixolydian is v, not V",
    );
    expect(makeDrill(specOf("progression", { ...mixolydian, numerals: "I-bVII-IV" })).kind).toBe("exercise");
    expect(reasonAgainst("progression", { ...triplets, numerals: "I-bVII" })).toMatch(/has no bVII/);
    expect(reasonAgainst("progression", { ...triplets, numerals: "I-VIII" })).toMatch(
      /"VIII" is not a Roman numeral/,
    );
    expect(reasonAgainst("progression", { ...triplets, numerals: " " })).toMatch(
      /at least one Roman numeral/,
    );
  });
});

describe("patterns over the scale", () => {
  const pattern = (figure: PatternFigure, direction: "up" | "down" | "both" = "up") =>
    degrees(made("pattern", { ...quavers, ...oneOctave, figure, direction }));

  test.each([
    ["thirds", "1 3 2 4 3 5 4 6 5 7 6 1"],
    ["fourths", "1 4 2 5 3 6 4 7 5 1"],
    ["sixths", "1 6 2 7 3 1"],
    ["octaves", "1 1"],
    ["turns", "2 3 2 1 3 4 3 2 4 5 4 3 5 6 5 4 6 7 6 5 7 1 7 6 1"],
    ["1-2-3-1", "1 2 3 1 2 3 4 2 3 4 5 3 4 5 6 4 5 6 7 5 6 7 1 6 1"],
    ["1-2-3-5", "1 2 3 5 2 3 4 6 3 4 5 7 4 5 6 1"],
    ["threes", "1 2 3 2 3 4 3 4 5 4 5 6 5 6 7 6 7 1"],
    ["fours", "1 2 3 4 2 3 4 5 3 4 5 6 4 5 6 7 5 6 7 1"],
  ] as const)("%s go up as a player would say them", (figure, said) => {
    // [calc] the figure begun on each degree in turn, ended on the upper home note.
    expect(pattern(figure)).toBe(said);
  });

  test("downwards a figure is mirrored", () => {
    expect(pattern("thirds", "down")).toBe("1 6 7 5 6 4 5 3 4 2 3 1");
    expect(pattern("fours", "both")).toBe(`${pattern("fours", "up")} ${pattern("fours", "down")}`);
  });

  test("intervals named by number need a mode of seven notes; octaves do not", () => {
    const pentatonic = {
      ...quavers,
      octaves: "plain range",
      start: "easiest",
      mode: "major pentatonic",
    } as const;
    expect(reasonAgainst("pattern", { ...pentatonic, figure: "thirds", direction: "up" })).toMatch(
      /seven-note mode/,
    );
    const octaves = made("pattern", { ...pentatonic, figure: "octaves", direction: "up" });
    const pairs = octaves.notes.filter((_, place) => place % 2 === 0).slice(0, -1);
    expect(pairs.length).toBeGreaterThan(2);
    for (const low of pairs) expect(octaves.notes[low.index + 1]?.midi).toBe(low.midi + 12);
  });
});

describe("the range of a scale", () => {
  const scale = { ...quavers, start: "easiest", direction: "up" } as const;

  test("the whole plain range of a C harp in C runs from 4 blow to 10 draw, for B6 is missing above", () => {
    // Trade facts 1: natural notes missing from the three octaves are F4, A4 and B6 [calc].
    const exercise = made("scale", { ...scale, octaves: "plain range" });
    expect(tabs(exercise)).toBe("4 -4 5 -5 6 -6 -7 7 -8 8 -9 9 -10");
  });

  test("an octave may begin on any degree of the mode", () => {
    expect(degrees(made("scale", { ...scale, octaves: 1, fromDegree: "5" }))).toBe("5 6 7 1 2 3 4 5");
    expect(reasonAgainst("scale", { ...scale, octaves: 1, fromDegree: "b3" })).toBe(
      'C major has no degree "b3"; it has 1, 2, 3, 4, 5, 6, 7',
    );
  });

  test("a player whose bends are in some holes only is told so", () => {
    const abilities = { bends: [4], overbends: false } as const;
    const reason = reasonAgainst("scale", { ...scale, octaves: 2, start: "lowest", abilities });
    // Trade facts 1: of the two octaves from C5 only B6 is missing [calc], and it is a bend of ten blow.
    expect(reason).toMatch(/with bends in hole 4 only and without overblows: no B6$/);
  });
});
