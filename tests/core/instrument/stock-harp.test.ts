import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { harpInKey, KEYS_BY_REGISTER, reedNote } from "../../../core/instrument/harp.ts";
import { layoutFromRows } from "../../../core/instrument/layout.ts";
import { positionHomeName, positionName } from "../../../core/instrument/positions.ts";
import { actionNote, actionsForNote, reedActions } from "../../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT } from "../../../core/instrument/stock-layouts.ts";
import { actionInWords, tab } from "../../../core/instrument/tab.ts";
import { midiOfName, noteName } from "../../../core/pitch/note-names.ts";
import { midi, semitones } from "../../../core/units.ts";
import { STOCK_SEQUENCE } from "../../sources/stock-layout-sequence.ts";
import { harp } from "../../support/harps.ts";

const ALL = { bends: true, overbends: true };

/** Names of what a C harp sounds with one technique in one hole. */
function sounds(hole: number, technique: string): string[] {
  const found = reedActions(STANDARD_LAYOUT, ALL).filter(
    (one) => one.action.hole === hole && one.action.technique === technique,
  );
  return found.map((one) => noteName(midi(60 + one.sounds), ["Db", "Eb", "Gb", "Ab", "Bb"]));
}

describe("the stock layout", () => {
  test("its reeds are the published integer sequence", () => {
    const reeds = STANDARD_LAYOUT.holes.flatMap((hole) => [hole.blow, hole.draw]);
    expect(reeds).toEqual(STOCK_SEQUENCE);
  });

  test("it has nineteen different pitches, for 2 draw equals 3 blow", () => {
    // Encyclopedia article "Richter-tuned harmonica" [F 2].
    expect(new Set(STOCK_SEQUENCE).size).toBe(19);
    expect(reedNote(harp("C"), 2, "draw")).toBe(reedNote(harp("C"), 3, "blow"));
  });

  test("the twelve keys lie from G3 up to F#4", () => {
    // Encyclopedia article "Richter-tuned harmonica" [F 2]: MIDI 55 to 66.
    expect(KEYS_BY_REGISTER.map((key) => harp(key).keyNote)).toEqual([
      55, 56, 57, 58, 59, 60, 61, 62, 63, 64, 65, 66,
    ]);
    expect(harp("G").keyNote).toBe(midiOfName("G3"));
    expect(harp("Gb").keyNote).toBe(midiOfName("F#4"));
  });

  test("a name that is not a key makes no harp", () => {
    expect(harpInKey(STANDARD_LAYOUT, "H")).toBeNull();
  });
});

describe("the two-reed rule on a C harp", () => {
  // Fact sheet, section 2, table of every case [calc from F 8, F 10].
  test.each([
    [1, ["Db4"]],
    [2, ["Gb4", "F4"]],
    [3, ["Bb4", "A4", "Ab4"]],
    [4, ["Db5"]],
    [5, []],
    [6, ["Ab5"]],
    [7, []],
    [8, ["Eb6"]],
    [9, ["Gb6"]],
    [10, ["B6", "Bb6"]],
  ])("hole %d bends to %j", (hole, expected) => {
    expect(sounds(hole, "bend")).toEqual(expected);
  });

  test.each([
    [1, "overblow", "Eb4"],
    [4, "overblow", "Eb5"],
    [5, "overblow", "Gb5"],
    [6, "overblow", "Bb5"],
    [7, "overdraw", "Db6"],
    [9, "overdraw", "Ab6"],
    [10, "overdraw", "Db7"],
  ])("hole %d gives the %s %s", (hole, technique, expected) => {
    expect(sounds(hole, technique)).toEqual([expected]);
  });

  test("the three-draw bends of a C harp reach B flat, A and A flat", () => {
    const three = reedActions(STANDARD_LAYOUT, ALL).filter(
      (one) => one.action.hole === 3 && one.action.technique === "bend",
    );
    expect(three.map((one) => tab(one.action))).toEqual(["-3'", "-3''", "-3'''"]);
    expect(three.every((one) => one.action.breath === "draw")).toBe(true);
  });

  test("bends are blown in the top holes", () => {
    const ten = reedActions(STANDARD_LAYOUT, ALL).filter(
      (one) => one.action.hole === 10 && one.action.technique === "bend",
    );
    expect(ten.map((one) => tab(one.action))).toEqual(["10'", "10''"]);
  });

  test("without overblows the stock layout lacks six notes between C4 and C7", () => {
    // Fact sheet, section 2: "with ordinary bends the standard layout still lacks Eb4, Eb5, Gb5, Bb5, Db6, Ab6" [calc].
    const missing = [];
    for (let note = 60; note <= 96; note++) {
      if (actionsForNote(harp("C"), midi(note), { bends: true, overbends: false }).length === 0)
        missing.push(note);
    }
    expect(missing.map((note) => noteName(midi(note), ["Db", "Eb", "Gb", "Ab", "Bb"]))).toEqual([
      "Eb4",
      "Eb5",
      "Gb5",
      "Bb5",
      "Db6",
      "Ab6",
    ]);
  });

  test("with overblows it is fully chromatic from C4 to C7", () => {
    for (let note = 60; note <= 96; note++)
      expect(actionsForNote(harp("C"), midi(note), ALL)).not.toEqual([]);
  });

  test("a lone reed, a missing one and a pair in unison only sound plain", () => {
    const odd = layoutFromRows("odd", "odd", { blow: [0, 5], draw: [0, 12] });
    const lone = { ...odd, holes: [{ blow: semitones(0), draw: null }, ...odd.holes] };
    const actions = reedActions(lone, ALL);
    expect(actions.filter((one) => one.action.hole <= 2).map((one) => one.action.technique)).toEqual([
      "plain",
      "plain",
      "plain",
    ]);
    expect(actions.filter((one) => one.action.hole === 3).length).toBe(2 + 6 + 1); // [calc] d = 7: six bends, one overblow
  });

  test("actions are told in words", () => {
    const bend = { hole: 3, breath: "draw", technique: "bend", bentSemitones: semitones(2) } as const;
    expect(actionInWords(bend)).toBe("3 draw, bent 2 semitones");
    expect(
      actionInWords({ hole: 6, breath: "blow", technique: "overblow", bentSemitones: semitones(0) }),
    ).toBe("6 overblow");
  });
});

describe("any layout of one to sixteen holes", () => {
  const layouts = fc
    .array(fc.tuple(fc.integer({ min: -5, max: 40 }), fc.integer({ min: -5, max: 40 })), {
      minLength: 1,
      maxLength: 16,
    })
    .map((holes) =>
      layoutFromRows("any", "any", {
        blow: holes.map(([blow]) => blow),
        draw: holes.map(([, draw]) => draw),
      }),
    );

  test("every bend lies between the two reeds of its hole and every overbend a semitone above the higher", () => {
    fc.assert(
      fc.property(layouts, (layout) => {
        for (const { action, sounds: pitch } of reedActions(layout, ALL)) {
          const hole = layout.holes[action.hole - 1];
          const low = Math.min(Number(hole?.blow), Number(hole?.draw));
          const high = Math.max(Number(hole?.blow), Number(hole?.draw));
          if (action.technique === "bend") expect(pitch > low && pitch < high).toBe(true);
          if (action.technique.startsWith("over")) expect(pitch).toBe(high + 1);
        }
      }),
    );
  });

  test("transposing a harp transposes every answer", () => {
    fc.assert(
      fc.property(layouts, fc.constantFrom(...KEYS_BY_REGISTER), (layout, key) => {
        const low = harpInKey(layout, "G");
        const other = harpInKey(layout, key);
        if (low === null || other === null) throw new Error("both are keys");
        for (const { action } of reedActions(layout, ALL)) {
          expect(Number(actionNote(other, action)) - Number(actionNote(low, action))).toBe(
            other.keyNote - low.keyNote,
          );
        }
      }),
    );
  });
});

describe("positions", () => {
  test("their home notes go round the circle of fifths from the key", () => {
    // Fact sheet, section 4 [F 22].
    const homes = Array.from({ length: 12 }, (_, n) => positionHomeName(harp("C"), n + 1));
    expect(homes).toEqual(["C", "G", "D", "A", "E", "B", "F#", "Db", "Ab", "Eb", "Bb", "F"]);
  });

  test("second position is a fifth above the label, third a whole tone, twelfth a fifth below", () => {
    expect(positionHomeName(harp("G"), 2)).toBe("D");
    expect(positionHomeName(harp("G"), 3)).toBe("A");
    expect(positionHomeName(harp("G"), 12)).toBe("C");
  });

  test("positions are counted in words", () => {
    expect([1, 2, 3, 4, 11, 12].map(positionName)).toEqual(["1st", "2nd", "3rd", "4th", "11th", "12th"]);
  });
});
