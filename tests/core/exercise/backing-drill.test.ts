import { describe, expect, test } from "vitest";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { harpInKey } from "../../../core/instrument/harp.ts";
import { STOCK_LAYOUTS } from "../../../core/instrument/stock-layouts.ts";
import { chordNotes, reedsAt } from "../../support/chord-notes.ts";
import { lengths, made, reasonAgainst, specOf, starts, tabs } from "./make.ts";

const backing = { strokes: "beats", mostHoles: 3, partial: true, repeats: 1 } as const;

describe("a backing drill", () => {
  test("puts each chord on the holes that sound it, the nearest ones", () => {
    // [F 1] C harp: blow 2-4 E G C, draw 2-4 G B D, so C to G moves no hole. [calc] F A C stands nowhere on three neighbours
    // of one breath; draw 5 6 is F A, and blow 4-6, C E G, is nearer to it than 2-4.
    const exercise = made("backing", { ...backing, chords: "I:1 V:1 IV:1 I:1" });
    expect(tabs(exercise)).toBe("234 -234 -56 456");
    expect(exercise.notes.map(({ chord }) => [chord?.name, chord?.lacks.join(" ")])).toEqual([
      ["C", ""],
      ["G", ""],
      ["F", "fifth"],
      ["C", ""],
    ]);
    expect(exercise.trains).toContain("on this harp F without its fifth");
  });

  test("says what is lacking where no chord may be partial, and with how many holes", () => {
    expect(reasonAgainst("backing", { ...backing, chords: "I-IV", partial: false })).toMatch(
      / has no F on up to 3 neighbouring holes of one breath; without its fifth it has it: allow partial chords$/,
    );
    // [calc] E major is E G# B: [F 1] no two neighbours of one breath sound two of them.
    expect(reasonAgainst("backing", { ...backing, chords: "E" })).toMatch(/has no E on up to 3/);
  });

  test("takes chord symbols and how many beats each holds", () => {
    const exercise = made("backing", { ...backing, chords: "C:2 G7:1 Dm:1" });
    expect(exercise.notes.map(({ chord }) => chord?.name)).toEqual(["C", "C", "G7", "Dm"]);
    // [F 1] draw 4-6 of a C harp: D F A.
    expect(exercise.notes.at(-1)?.tab).toBe("-456");
  });

  test.each([
    ["", /at least one chord/],
    ["I-VIII", /"VIII" is not a Roman numeral/],
    ["C-H", /"H" is not a Roman numeral/],
    ["C-Gxyz", /"Gxyz" is not the symbol of a chord/],
    ["C5", /"C5" is not the symbol of a chord of three notes/],
    ["C:0", /holds 1 to 64 beats/],
    ["C:99", /holds 1 to 64 beats/],
    ["i-IV", /the chord there in C major is I, not i/],
    [Array.from({ length: 201 }, () => "C").join(" "), /200 chords, not 201/],
  ])("refuses %j in words", (chords, reason) => {
    expect(reasonAgainst("backing", { ...backing, chords })).toMatch(reason);
  });

  test("sounds notes of its chord and none else, on one breath, on every harp it can be made for", () => {
    let count = 0;
    for (const layout of STOCK_LAYOUTS.slice(0, 6)) {
      const own = harpInKey(layout, "G");
      if (own === null) throw new Error("G is a key");
      const result = makeDrill(
        specOf("backing", { ...backing, harp: own, chords: "G-C", strokes: "halves" }),
      );
      if (result.kind === "impossible") continue;
      count++;
      for (const note of result.exercise.notes) {
        const wanted = chordNotes(note.chord?.name ?? "");
        const reeds = reedsAt(own, note);
        expect(reeds.length).toBeGreaterThanOrEqual(2);
        for (const { midi, breath } of reeds) {
          expect(wanted).toContain(midi % 12);
          expect(breath).toBe(note.action.breath);
        }
      }
    }
    expect(count).toBeGreaterThan(2);
  });

  test("is struck as the dance wants it, and let go before the next", () => {
    const struck = (strokes: "halves" | "off-beats" | "long-short" | "held") => {
      const exercise = made("backing", { ...backing, chords: "I:2", strokes });
      return [starts(exercise), lengths(exercise).every((length, n) => endsBefore(exercise, n, length))];
    };
    const endsBefore = (exercise: ReturnType<typeof made>, n: number, length: number) =>
      (starts(exercise)[n] ?? 0) + length < (starts(exercise)[n + 1] ?? Number.POSITIVE_INFINITY);
    // [P] common practice of backing, as the drill says.
    expect(struck("halves")).toEqual([[0, 0.5, 1, 1.5], true]);
    expect(struck("off-beats")).toEqual([[0.5, 1.5], true]);
    expect(struck("long-short")).toEqual([[0, 2 / 3, 1, 1 + 2 / 3], true]);
    expect(struck("held")).toEqual([[0], true]);
  });

  test("rests a bar after each time", () => {
    // [calc] two bars of 4 beats, one of rest: the second time begins at beat 12.
    const exercise = made("backing", { ...backing, chords: "I-V", repeats: 2 });
    expect(starts(exercise)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 12, 13, 14, 15, 16, 17, 18, 19]);
  });

  test("asks no longer for one breath than other drills", () => {
    // [calc] six bars of four beats at 90 are 16 s, of which the last stroke leaves a quarter of a beat.
    expect(reasonAgainst("backing", { ...backing, chords: "I-I-I-I-I-I" })).toMatch(
      /^chords on one breath would have to last 15\.9 s, more than the 15 s a drill asks for/,
    );
    expect(made("backing", { ...backing, chords: "I-I-V-I-I-I" }).notes).toHaveLength(24);
  });
});
