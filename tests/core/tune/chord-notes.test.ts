import { describe, expect, test } from "vitest";
import { chordNotes } from "../../../core/tune/chord-notes.ts";

/** [calc] from C3 = 48 up. */
describe("the backing", () => {
  test.each([
    ["C", [48, 52, 55]],
    ["Am", [57, 60, 64]],
    ["D7", [50, 54, 57, 60]],
    ["G", [55, 59, 62]],
    ["Bdim", [59, 62, 65]],
    ["D/F#", [54, 57, 62]],
    ["N.C.", []],
    ["slowly", []],
    ["", []],
  ])("sounds %j as %j", (symbol, notes) => {
    expect(chordNotes(symbol)).toEqual(notes);
  });

  test("never goes above two octaves, whatever the chord", () => {
    for (const symbol of ["B7", "F#m7b5", "Ebmaj7", "G13", "Asus4", "Bb6"]) {
      const notes = chordNotes(symbol);
      expect(notes.length).toBeGreaterThanOrEqual(3);
      for (const note of notes) {
        expect(note).toBeGreaterThanOrEqual(48);
        expect(note).toBeLessThanOrEqual(72);
      }
    }
  });
});
