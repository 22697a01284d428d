import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { EVERYTHING, PLAIN_AND_BENDS, type ReedAction } from "../../../core/instrument/reed-actions.ts";
import { airProblem, totalCost } from "../../../core/path/air-problem.ts";
import { breathBalance } from "../../../core/path/breath-balance.ts";
import { breathPath } from "../../../core/path/breath-path.ts";
import { pathCost } from "../../../core/path/cost.ts";
import { airCost, evenedPath } from "../../../core/path/evened-path.ts";
import { type Line, lineOfTune } from "../../../core/path/line.ts";
import { reedChoices } from "../../../core/path/reed-choices.ts";
import { tiedLeast } from "../../../core/path/tied-search.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import { seconds } from "../../../core/units.ts";
import { anyHarp } from "../../support/any-layout.ts";
import { harp } from "../../support/harps.ts";
import { type ShippedFile, shippedText } from "../../support/shipped-tunes.ts";
import { actionOf, anyLine, anyWeights, everyPath, lineOf, noteAt, tabs } from "./lines.ts";

const C = harp("C");

function tunesOf(file: ShippedFile) {
  const read = readAbc(shippedText(file));
  if (read.kind === "unreadable") throw new Error(read.reason);
  return read.tunes;
}

const tabbed = (text: string) => text.split(" ").map(actionOf);
/** The same line with its last note later, and so a rest before it. */
const withRest = (line: Line, rest: number): Line =>
  line.map((note, index) =>
    index === line.length - 1 ? { ...note, startSeconds: seconds(note.startSeconds + rest) } : note,
  );

describe("the balance of the breath", () => {
  test("counts the seconds of blow and of draw, and the air after every note", () => {
    // [calc] four notes of 1 s: +1, +1 - 1, ...
    const balance = breathBalance(lineOf("D5 C5 F5 A5", 1), tabbed("-4 4 -5 -6"), FIRST_WEIGHTS);
    expect([balance.blowSeconds, balance.drawSeconds]).toEqual([1, 3]);
    expect(balance.air.map((point) => point.airSeconds)).toEqual([0, 1, 1, 0, 0, 1, 1, 2]);
    expect(balance.air.at(-1)?.atSeconds).toBe(4);
    expect(balance.troubles).toEqual([]);
  });

  test("a bend counts by its breath, an overblow as blow", () => {
    const balance = breathBalance(lineOf("Bb4 Eb5", 2), tabbed("-3' 4o"), FIRST_WEIGHTS);
    expect([balance.blowSeconds, balance.drawSeconds]).toEqual([2, 2]);
  });

  test("says where air runs out and where it piles up", () => {
    // [calc] 5 s are comfortable: ten notes of 1 s reach 10 s, from the sixth on beyond.
    const line = lineOf("C5 C5 C5 C5 C5 C5 C5 C5 C5 C5", 1);
    const blown = breathBalance(line, tabbed("4 4 4 4 4 4 4 4 4 4"), FIRST_WEIGHTS);
    expect(blown.troubles).toEqual([
      {
        kind: "runs out",
        from: 5,
        to: 9,
        where: "bar 1",
        mostSeconds: 10,
        words: "air runs out from bar 1 to bar 2: 10.0 s more blown than drawn",
      },
    ]);
    const drawn = breathBalance(line, tabbed("-4 -4 -4 -4 -4 -4 -4 4 4 4"), FIRST_WEIGHTS);
    expect(drawn.troubles.map((one) => one.words)).toEqual([
      "air piles up in bar 1: 7.0 s more drawn than blown",
    ]);
  });

  test("a rest moves the air towards the middle, four seconds of playing in a second, and no further", () => {
    const line = lineOf("D5 D5 C5", 2);
    const air = (rest: number) =>
      breathBalance(withRest(line, rest), tabbed("-4 -4 4"), FIRST_WEIGHTS).air[4]?.airSeconds;
    expect(air(0)).toBe(4);
    // [calc] 4 s less 0.5 s times 4.
    expect(air(0.5)).toBe(2);
    expect(air(3)).toBe(0);
  });

  test("a breath fits in a rest, at the end of a phrase and in a long note", () => {
    const line: Line = withRest(
      [0.1, 0.1, 0.1, 0.5, 1, 0.2, 0.2].map((length, index, all) => ({
        ...noteAt(74, index),
        startSeconds: seconds(all.slice(0, index).reduce((sum, one) => sum + one, 0)),
        lengthSeconds: seconds(length),
      })),
      0.3,
    );
    const actions = line.map(() => actionOf("-4"));
    const places = breathBalance(line, actions, FIRST_WEIGHTS, [1, 3]).places;
    expect(places.map(({ after, kind }) => [after, kind])).toEqual([
      [3, "phrase end"],
      [4, "long note"],
      [5, "rest"],
    ]);
    expect(places[2]?.seconds).toBeCloseTo(0.3, 9);
  });

  test("a note the harp lacks is a rest, in which the player may breathe", () => {
    const balance = breathBalance(
      lineOf("D5 F4 D5", 1),
      [actionOf("-4"), null, actionOf("-4")],
      FIRST_WEIGHTS,
    );
    expect(balance.drawSeconds).toBe(2);
    expect(balance.places[0]?.kind).toBe("rest");
  });
});

describe("a path that evens the breath", () => {
  const anyProblem = fc
    .tuple(anyHarp, fc.constantFrom(PLAIN_AND_BENDS, EVERYTHING), anyWeights, fc.constantFrom(0, 0.2, 1))
    .chain(([on, abilities, weights, airSeconds]) =>
      anyLine(on, 7).map((line) => ({
        on,
        line,
        options: { abilities, weights: { ...weights, airSeconds } },
      })),
    );

  test("costs, its air counted, as little as any way to play a short line with like notes alike", () => {
    let tied = 0;
    fc.assert(
      fc.property(anyProblem, ({ on, line, options }) => {
        const all = everyPath(line, on, options.abilities);
        fc.pre(all.length <= 1000);
        const even = evenedPath(line, on, options);
        const total = (actions: (typeof all)[number]) =>
          pathCost(line, actions, options.weights) +
          airCost(line, actions, options.weights, even.gridSeconds);
        expect(even.cost + even.airCost).toBeCloseTo(Math.min(...all.map(total)), 7);
        expect(total(even.actions)).toBeCloseTo(even.cost + even.airCost, 9);
        expect(even.proved).toBe(true);
        for (const [index, note] of line.entries()) {
          const first = line.findIndex((one) => one.choice === note.choice);
          if (first < index && (even.actions[index] ?? null) !== null) tied++;
          expect(even.actions[index]).toEqual(even.actions[first]);
        }
      }),
      { numRuns: 400 },
    );
    expect(tied).toBeGreaterThan(100);
  });

  test("plays what is written once the same way every time it comes, on a dozen tunes that come along", () => {
    for (const tune of [...tunesOf("traditional").slice(0, 8), ...tunesOf("village-band").slice(0, 4)]) {
      const even = evenedPath(lineOfTune(tune), harp("G"));
      expect(even.proved, tune.title).toBe(true);
      const byWritten = new Map<string, ReedAction | null>();
      for (const { written, midi, index } of tune.notes) {
        const action = even.actions[index] ?? null;
        const key = `${written} ${midi}`;
        expect(byWritten.get(key) ?? action, `${tune.title}, note ${index}`).toEqual(action);
        byWritten.set(key, action);
      }
    }
  });

  test("says it was not proved where the search is given up, and still plays like notes alike", () => {
    // [F1] G4 is 2 draw and 3 blow. [calc] Three choices in turn leave a second more one way each time they come; each note
    // by itself could keep to the middle.
    const line = lineOf(new Array(12).fill("G4").join(" "), 1).map((note, n) => ({ ...note, choice: n % 3 }));
    const weights = { ...FIRST_WEIGHTS, airSeconds: 1, breathChange: 0.25 };
    const setting = { abilities: PLAIN_AND_BENDS, weights, pins: [] };
    const problem = airProblem(line, reedChoices(line, C, setting), weights);
    const start = [0, 0, 0];
    const full = tiedLeast(problem, [start]);
    const cut = tiedLeast(problem, [start], 0);
    expect([full.proved, cut.proved]).toEqual([true, false]);
    expect(cut.values.length).toBe(3);
    expect(cut.cost).toBeCloseTo(totalCost(problem, cut.values), 9);
    expect(cut.cost).toBeGreaterThanOrEqual(full.cost - 1e-9);
  });

  test("trades effort for air: the same notes, less air beyond the comfortable", () => {
    // [F1] G4 is 2 draw and 3 blow. Twenty of them, a second each: all on one breath costs nothing but air.
    const line = lineOf(new Array(20).fill("G4").join(" "), 1);
    const plain = breathPath(line, C);
    const even = evenedPath(line, C);
    expect(new Set(tabs(plain.actions).split(" ")).size).toBe(1);
    const most = (actions: typeof plain.actions) =>
      Math.max(...breathBalance(line, actions, FIRST_WEIGHTS).air.map((point) => Math.abs(point.airSeconds)));
    expect(most(plain.actions)).toBe(20);
    // [calc] one turn of breath reaches the middle again: never more than 6 s either way.
    expect(most(even.actions)).toBeLessThanOrEqual(6);
    expect(even.cost).toBeGreaterThan(plain.cost);
  });

  test("keeps the player's pins", () => {
    const line = lineOf(new Array(12).fill("G4").join(" "), 1);
    const pins = line.map((_, note) => ({ note, action: actionOf("3") }));
    expect(tabs(evenedPath(line, C, { pins }).actions)).toBe(new Array(12).fill("3").join(" "));
  });

  test("leaves gaps where the harp has no note, and says so", () => {
    const even = evenedPath(lineOf("C4 C1 C4", 1), C);
    expect(tabs(even.actions)).toBe("1 x 1");
    expect(even.missing.length).toBe(1);
    expect(evenedPath([], C).actions).toEqual([]);
  });
});
