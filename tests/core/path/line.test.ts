import { describe, expect, test } from "vitest";
import { breathPath } from "../../../core/path/breath-path.ts";
import { lineOfTune } from "../../../core/path/line.ts";
import { bpm } from "../../../core/units.ts";
import { harp } from "../../support/harps.ts";
import { tuneOf } from "../../support/small-tunes.ts";
import { tabs } from "./lines.ts";

/** A pick-up and two bars, played twice; the third bar written is the same as the first. */
const TUNE = tuneOf([
  { written: 0, notes: "D4", kind: "pick-up" },
  { written: 1, notes: "G4:2 B4 D5 G4:4" },
  { written: 2, notes: "E4:2 G4:2 z:4" },
  { written: 1, notes: "G4:2 B4 D5 G4:4" },
  { written: 2, notes: "E4:2 G4:2 z:4" },
  { written: 3, notes: "G4:2 B4 D5 G4:4" },
]);

describe("a tune as the breath sees it", () => {
  test("has each note's seconds at the tune's tempo or another", () => {
    // [calc] minim = 120: 0.5 s a minim, 0.125 s a quaver; at minim = 60 twice that.
    const line = lineOfTune(TUNE);
    expect(line.slice(0, 3).map((note) => [note.startSeconds, note.lengthSeconds])).toEqual([
      [0, 0.125],
      [0.125, 0.25],
      [0.375, 0.125],
    ]);
    const slow = lineOfTune(TUNE, { tempo: { noteValue: "1/2", bpm: bpm(60) } });
    expect(slow[1]?.startSeconds).toBeCloseTo(0.25, 9);
  });

  test("moves by semitones where asked", () => {
    expect(lineOfTune(TUNE, { shift: -12 })[0]?.midi).toBe(50);
  });

  test("names bars as players count them, the pick-up not counted", () => {
    const places = lineOfTune(TUNE).map((note) => note.where);
    expect(places[0]).toBe("pick-up to bar 1");
    expect(places[1]).toBe("bar 1");
    expect(places[5]).toBe("bar 2");
    expect(places[7]).toBe("bar 1");
    expect(places.at(-1)).toBe("bar 3");
  });

  test("a repeat is the same choice, and so is a bar with the same notes and rhythm", () => {
    const choices = (alike: "bars" | "repeats" | "nothing") =>
      lineOfTune(TUNE, { alike }).map((note) => note.choice);
    const bars = choices("bars");
    expect(bars.slice(1, 5)).toEqual(bars.slice(7, 11));
    expect(bars.slice(1, 5)).toEqual(bars.slice(13, 17));
    const repeats = choices("repeats");
    expect(repeats.slice(1, 5)).toEqual(repeats.slice(7, 11));
    expect(repeats.slice(1, 5)).not.toEqual(repeats.slice(13, 17));
    expect(new Set(choices("nothing")).size).toBe(TUNE.notes.length);
  });

  test("a written note that sounds another pitch when it comes again is another choice", () => {
    const tune = tuneOf([
      { written: 0, notes: "G4:4 A4:4" },
      { written: 0, notes: "G4:4 B4:4" },
    ]);
    const choices = lineOfTune(tune, { alike: "repeats" }).map((note) => note.choice);
    expect(choices[0]).toBe(choices[2]);
    expect(choices[1]).not.toBe(choices[3]);
  });

  test("the same bar takes the same reed actions, and playing alike never costs less than playing freely", () => {
    const path = breathPath(lineOfTune(TUNE), harp("C"));
    const text = tabs(path.actions).split(" ");
    expect(text.slice(1, 5)).toEqual(text.slice(7, 11));
    expect(text.slice(1, 5)).toEqual(text.slice(13, 17));
    const free = breathPath(lineOfTune(TUNE, { alike: "nothing" }), harp("C"));
    const repeats = breathPath(lineOfTune(TUNE, { alike: "repeats" }), harp("C"));
    expect(free.cost).toBeLessThanOrEqual(repeats.cost + 1e-9);
    expect(repeats.cost).toBeLessThanOrEqual(path.cost + 1e-9);
  });
});
