import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { PLAIN_AND_BENDS } from "../../../core/instrument/reed-actions.ts";
import { STOCK_SEQUENCE } from "../../sources/stock-layout-sequence.ts";
import { exerciseOf } from "../../support/drills.ts";
import { harp } from "../../support/harps.ts";
import { deepestBend, harpTable, reedOf } from "./harp-table.ts";
import { perform } from "./performance.ts";
import { causesOf, scoreOf } from "./place.ts";
import { PLANT_KINDS, type Plant, plantOf } from "./plants.ts";

describe("the maker's harp", () => {
  it("has the notes of the published sequence", () => {
    const { blow, draw } = harpTable("standard");
    expect(blow.flatMap((note, at) => [note, draw[at]])).toEqual(STOCK_SEQUENCE); // [F 3]
  });

  it("begins below the key where the table does", () => {
    // [F 1] extended standard: G C E G … over B D G B …: G and B below middle C.
    const table = harpTable("extended-16");
    expect([reedOf(table, 1, "blow"), reedOf(table, 1, "draw"), reedOf(table, 2, "blow")]).toEqual([
      -5, -1, 0,
    ]);
    expect(table.blow).toHaveLength(16);
  });

  it("bends as far as the two reeds of a hole allow", () => {
    // [calc] fact sheet, section 2, C layout: bends of 1 2 3 1 0 1 semitones drawn, 0 1 1 2 blown in 7 to 10.
    const table = harpTable("standard");
    expect([1, 2, 3, 4, 5, 6].map((hole) => deepestBend(table, hole, "draw"))).toEqual([1, 2, 3, 1, 0, 1]);
    expect([7, 8, 9, 10].map((hole) => deepestBend(table, hole, "blow"))).toEqual([0, 1, 1, 2]);
    expect(deepestBend(table, 4, "blow")).toBe(0);
  });
});

/** Second position on a C harp, G mixolydian from 2 draw on, quavers of 333 ms: -2 -3'' -3 4 -4 … */
const exercise = exerciseOf({
  harp: harp("C"),
  mode: "mixolydian",
  start: "lowest",
  notesPerBeat: 2,
  abilities: PLAIN_AND_BENDS,
});
const score = scoreOf(exercise);

describe("what a wrong pitch can come from", () => {
  const [, bend, plain, blow] = score.places;
  if (bend === undefined || plain === undefined || blow === undefined)
    throw new Error("a scale has four notes");

  it("is one thing where one thing on the harp sounds so", () => {
    expect([bend.tab, plain.tab, blow.tab]).toEqual(["-3''", "-3", "4"]);
    // [calc] on C: -3'' is A4 = 69, plain 3 draw B4 = 71, 3 blow G4 = 67, 2 draw G4, 4 draw D5 = 74
    expect(causesOf(score.harp, bend, undefined, 71)).toEqual(["unbent"]);
    expect(causesOf(score.harp, bend, undefined, 69.8)).toEqual(["bend too shallow"]);
    expect(causesOf(score.harp, bend, undefined, 68.2)).toEqual(["bend too deep"]);
    expect(causesOf(score.harp, bend, undefined, 74)).toEqual(["neighbour hole"]);
    expect(causesOf(score.harp, blow, undefined, 84)).toEqual(["octave"]);
    expect(causesOf(score.harp, bend, undefined, 69)).toEqual([]);
  });

  it("is two things where 2 draw and 3 blow are the same note", () => {
    expect(causesOf(score.harp, plain, undefined, 67)).toEqual(["neighbour hole", "wrong breath"]);
  });

  it("is the early breath where the old hole sounds on the new one", () => {
    // 4 blow after 3 draw: 3 blow, G4, is the neighbour and the early turn alike.
    expect(causesOf(score.harp, blow, plain, 67)).toEqual(["neighbour hole", "early breath change"]);
  });
});

describe("a performance", () => {
  const random = seededRandom(1);
  const playing = (plants: readonly (readonly [number, Plant])[]) => perform(score, new Map(plants), random);

  it("without plants is what is written, one note after another", () => {
    const { line, second, truths } = playing([]);
    expect(second).toEqual([]);
    expect(line.map(({ pitch }) => pitch)).toEqual(score.places.map(({ target }) => target));
    // [calc] crotchet = 90, four beats of count-in, two notes a beat
    for (const [at, { onSeconds }] of line.entries()) {
      expect(onSeconds).toBeCloseTo((4 + at / 2) * (60 / 90), 9);
      if (at > 0) expect(line[at - 1]?.offSeconds).toBeLessThan(onSeconds);
    }
    expect(truths.every(({ cents, ms }) => cents === 0 && ms === 0)).toBe(true);
  });

  it("says of every plant what a right marker has to find", () => {
    const { truths } = playing([
      [2, { kind: "flat", cents: -35 }],
      [5, { kind: "late", ms: 70 }],
      [8, { kind: "missed" }],
      [11, { kind: "octave", pitch: (score.places[11]?.target ?? 0) + 12, hole: 1, breath: "blow" }],
    ]);
    expect(truths[2]?.cents).toBeCloseTo(-35, 9);
    expect(truths[5]?.ms).toBeCloseTo(70, 9);
    expect(truths[8]).toMatchObject({ cents: null, ms: null });
    expect(truths[11]?.cents).toBeNull();
    expect(truths[11]?.ms).toBe(0);
  });

  it("stops a note for whatever comes before the next one", () => {
    const on = score.places[4]?.onSeconds ?? 0;
    const { line } = playing([[4, { kind: "ornament", pitch: 90, seconds: 0.04, atSeconds: null }]]);
    const grace = line.find(({ pitch }) => pitch === 90);
    expect(grace?.onSeconds).toBeCloseTo(on - 0.04, 9);
    expect(line.find(({ index }) => index === 3)?.offSeconds).toBeLessThan(on - 0.04);
    expect(line.find(({ index }) => index === 4)?.onSeconds).toBe(on);
  });

  it("sounds the second of two holes as long as the first", () => {
    const { line, second, leaks } = playing([[4, { kind: "two holes at once", pitch: 80, levelDb: -3 }]]);
    const own = line.find(({ index }) => index === 4);
    expect(second).toMatchObject([
      { pitch: 80, levelDb: -3, onSeconds: own?.onSeconds, offSeconds: own?.offSeconds },
    ]);
    // In the leaky version it needs no third.
    expect(leaks.some(({ onSeconds }) => onSeconds === own?.onSeconds)).toBe(false);
    expect(leaks.length).toBeGreaterThan(5);
  });
});

it("every plant fits its note: a wrong pitch has one cause, a change of time leaves both notes room", () => {
  let planted = 0;
  for (const [at, place] of score.places.entries()) {
    const before = score.places[at - 1];
    if (before === undefined) continue;
    for (const kind of PLANT_KINDS) {
      const plant = plantOf(kind, { score, place, before, after: score.places[at + 1] }, seededRandom(at));
      if (plant === null) continue;
      planted++;
      expect(plant.kind).toBe(kind);
      if ("hole" in plant) expect(causesOf(score.harp, place, before, plant.pitch)).toEqual([kind]);
      if (plant.kind === "early" || plant.kind === "late") {
        expect(Math.abs(plant.ms)).toBeGreaterThanOrEqual(60);
        expect(Math.abs(plant.ms)).toBeLessThanOrEqual(Math.min(110, (1000 * 60) / 90 / 4));
      }
    }
  }
  expect(planted).toBeGreaterThan(60);
});
