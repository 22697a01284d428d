import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { EVERYTHING, readHoles, reedActions } from "../../../core/instrument/reed-actions.ts";
import { readTab, tab } from "../../../core/instrument/tab.ts";
import { semitones } from "../../../core/units.ts";
import { anyLayout } from "../../support/any-layout.ts";

describe("tab", () => {
  // The forms in general use [P]: a minus sign or an arrow for the breath, a stroke for each semitone, an o for overbends.
  test.each([
    [{ hole: 4, breath: "blow", technique: "plain", bent: 0 }, "4", "4↑", "4 blow"],
    [{ hole: 4, breath: "draw", technique: "plain", bent: 0 }, "-4", "4↓", "4 draw"],
    [{ hole: 3, breath: "draw", technique: "bend", bent: 2 }, "-3''", "3↓''", "3 draw, bent 2 semitones"],
    [{ hole: 8, breath: "blow", technique: "bend", bent: 1 }, "8'", "8↑'", "8 blow, bent 1 semitone"],
    [{ hole: 6, breath: "blow", technique: "overblow", bent: 0 }, "6o", "6↑o", "6 overblow"],
    [{ hole: 10, breath: "draw", technique: "overdraw", bent: 0 }, "-10o", "10↓o", "10 overdraw"],
  ] as const)("%j is written in three forms", ({ bent, ...one }, signs, arrows, words) => {
    const action = { ...one, bentSemitones: semitones(bent) };
    expect(tab(action)).toBe(signs);
    expect(tab(action, "arrows")).toBe(arrows);
    expect(tab(action, "words")).toBe(words);
  });

  // [P] both breaths signed, or B for blow and D for draw behind the hole; a slash for each semitone instead of a quote.
  test.each([
    [{ hole: 4, breath: "blow", technique: "plain", bent: 0 }, "+4", "4B"],
    [{ hole: 4, breath: "draw", technique: "plain", bent: 0 }, "-4", "4D"],
    [{ hole: 3, breath: "draw", technique: "bend", bent: 2 }, "-3//", "3D//"],
    [{ hole: 6, breath: "blow", technique: "overblow", bent: 0 }, "+6o", "6Bo"],
  ] as const)("%j with both signs and in letters, bends as strokes", ({ bent, ...one }, signs, letters) => {
    const action = { ...one, bentSemitones: semitones(bent) };
    expect(tab(action, "both signs", "strokes")).toBe(signs);
    expect(tab(action, "letters", "strokes")).toBe(letters);
  });

  test("signs and arrows are read back as they were written, on any layout", () => {
    fc.assert(
      fc.property(anyLayout, (layout) => {
        for (const { action } of reedActions(layout, EVERYTHING)) {
          expect(readTab(tab(action))).toEqual(action);
          expect(readTab(tab(action, "arrows"))).toEqual(action);
        }
      }),
    );
  });

  test.each(["", "0", "17", "4 draw", "--4", "-4↓", "4'o", "x", "4''''''x"])("%j is not tab", (text) => {
    expect(readTab(text)).toBeNull();
  });

  test("a plus sign counts as blow", () => {
    expect(readTab("+4")).toEqual(readTab("4"));
  });
});

describe("hole numbers as text", () => {
  test.each([
    ["yes", true],
    ["no", false],
    ["4 6", [4, 6]],
    ["4,6", [4, 6]],
  ])("%j is %j", (text, holes) => {
    expect(readHoles(text)).toEqual(holes);
  });

  test.each(["", "0", "17", "four", "4.5"])("%j names no holes", (text) => {
    expect(readHoles(text)).toBeNull();
  });
});
