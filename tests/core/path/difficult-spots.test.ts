import { describe, expect, test } from "vitest";
import { difficultSpots } from "../../../core/path/difficult-spots.ts";
import { lineOfTune } from "../../../core/path/line.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import { tuneOf } from "../../support/small-tunes.ts";
import { actionOf, lineOf } from "./lines.ts";

/** The spots of a path given as tab, each note an eighth of a second. */
const spots = (tab: string, hardFrom?: number) => {
  const actions = tab.split(" ").map((word) => (word === "x" ? null : actionOf(word)));
  // The pitches do not matter here: what is hard lies in the reed actions.
  const line = lineOf(actions.map(() => "C5").join(" "), 0.125);
  return difficultSpots(line, actions, FIRST_WEIGHTS, hardFrom);
};
const words = (tab: string, hardFrom?: number) => spots(tab, hardFrom).map((spot) => spot.words);

describe("difficult spots", () => {
  test("a hole jump with breath change is named with its holes and its milliseconds", () => {
    expect(words("3 -7")).toEqual(["hole jump of 4 with breath change in 125 ms (3 blow to 7 draw), bar 1"]);
    // [calc] 2 times (0.3 + 3 * 0.5 + 1 + 3 * 0.5) at half the comfortable time.
    expect(spots("3 -7")[0]?.cost).toBeCloseTo(8.6, 9);
  });

  test("a bend at speed is named by hole, depth and the time it has", () => {
    expect(words("-3''")).toEqual(["3 draw, bent 2 semitones, for 125 ms, bar 1"]);
    expect(words("6o")).toEqual(["6 overblow, for 125 ms, bar 1"]);
  });

  test("turns of breath in one hole are one spot, counted", () => {
    expect(words("4 -4 4 -4 5")[0]).toBe("breath turned 3 times in hole 4, as little as 125 ms each, bar 1");
    expect(words("4 -4")).toEqual(["breath turned in hole 4 in 125 ms, bar 1"]);
  });

  test("the dearest comes first", () => {
    const costs = spots("3 -7 6 -3'' -6 4 -5").map((spot) => spot.cost);
    expect(costs.length).toBeGreaterThan(3);
    expect([...costs].sort((one, other) => other - one)).toEqual(costs);
  });

  test("easy moves are not named, and where little is asked for more is", () => {
    expect(words("4 5 6")).toEqual([]);
    expect(words("4 -5", 3)).toEqual([]);
    expect(words("4 -5", 2)).toEqual([
      "step to the next hole with breath change in 125 ms (4 blow to 5 draw), bar 1",
    ]);
  });

  test("a move over a note that is left out has the time from onset to onset", () => {
    expect(words("3 x -7")).toEqual([
      "hole jump of 4 with breath change in 250 ms (3 blow to 7 draw), bar 1",
    ]);
  });

  test("what comes again is told once, with every place", () => {
    const tune = tuneOf([
      { written: 0, notes: "G4 B5 z:6" },
      { written: 1, notes: "z:2 G4 B5 z:4" },
      { written: 0, notes: "G4 B5 z:6" },
    ]);
    const actions = ["3", "-7", "3", "-7", "3", "-7"].map(actionOf);
    // The way back over the rest has time enough to be no spot of this cost.
    const spots = difficultSpots(lineOfTune(tune), actions, FIRST_WEIGHTS, 5);
    expect(spots.map((spot) => spot.words)).toEqual([
      "hole jump of 4 with breath change in 125 ms (3 blow to 7 draw), bar 1",
    ]);
    expect(spots[0]?.at).toEqual([
      { from: 0, to: 1, where: "bar 1" },
      { from: 2, to: 3, where: "bar 2" },
      { from: 4, to: 5, where: "bar 1" },
    ]);
  });

  test("of moves alike in size but between other holes each is told", () => {
    expect(words("3 -7 4 -8").filter((one) => one.startsWith("hole jump of 4"))).toHaveLength(2);
  });
});
