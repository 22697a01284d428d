import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Harp } from "../../../core/instrument/harp.ts";
import {
  actionsForNote,
  EVERYTHING,
  PLAIN_AND_BENDS,
  PLAIN_ONLY,
  type ReedAction,
  sameAction,
} from "../../../core/instrument/reed-actions.ts";
import { stockLayout } from "../../../core/instrument/stock-layouts.ts";
import { alternatives, breathPath } from "../../../core/path/breath-path.ts";
import { noteCost, pathCost, stepCost } from "../../../core/path/cost.ts";
import type { Line } from "../../../core/path/line.ts";
import { FIRST_WEIGHTS, type Weights } from "../../../core/path/weights.ts";
import { midi, seconds } from "../../../core/units.ts";
import { anyHarp, inKey } from "../../support/any-layout.ts";
import { harp } from "../../support/harps.ts";
import { actionOf, anyLine, anyWeights, cheapest, everyPath, lineOf, noteAt, tabs } from "./lines.ts";

const C = harp("C");
/** A harp, abilities, weights and a short line to play on it. */
const anyProblem = fc
  .tuple(anyHarp, fc.constantFrom(PLAIN_ONLY, PLAIN_AND_BENDS, EVERYTHING), anyWeights)
  .chain(([on, abilities, weights]) =>
    anyLine(on, 7).map((line) => ({ on, line, options: { abilities, weights } })),
  );

/** Least cost of a line each note of which is a choice of its own. */
function forwardSum(line: Line, on: Harp, weights: Weights): number {
  let before: readonly { readonly index: number; readonly action: ReedAction; readonly sum: number }[] = [];
  for (const [index, note] of line.entries()) {
    const able = actionsForNote(on, note.midi, EVERYTHING);
    if (able.length === 0) continue;
    const earlier = before;
    before = able.map((action) => {
      const ways = earlier.map((one) => {
        const from = line[one.index] ?? note;
        return one.sum + stepCost(from, note, one.action, action, weights);
      });
      const own = noteCost(note, line[index + 1] ?? null, action, weights);
      return { index, action, sum: own + (ways.length === 0 ? 0 : Math.min(...ways)) };
    });
  }
  return before.length === 0 ? 0 : Math.min(...before.map((one) => one.sum));
}

describe("a breath path", () => {
  test("takes the scale from 4 blow to 7 blow as every player does", () => {
    // [F1] standard table: C D E F G A B C = 4 blow, 4 draw, 5 blow, 5 draw, 6 blow, 6 draw, 7 draw, 7 blow.
    const path = breathPath(lineOf("C5 D5 E5 F5 G5 A5 B5 C6"), C);
    expect(tabs(path.actions)).toBe("4 -4 5 -5 6 -6 -7 7");
    expect(path.missing).toEqual([]);
  });

  test("takes G as 2 draw beside 3 draw and as 3 blow beside 3-blow's neighbours", () => {
    // [calc] A4 is only 3 draw bent, on draw: 2 draw to 3 draw one hole, one breath. E4 and C5 are blow: 3 blow lies between.
    expect(tabs(breathPath(lineOf("B4 G4 B4"), C).actions)).toBe("-3 -2 -3");
    expect(tabs(breathPath(lineOf("E4 G4 C5"), C).actions)).toBe("2 3 4");
  });

  test("costs as much as the cheapest of all ways to play a short line", () => {
    let ways = 0;
    fc.assert(
      fc.property(anyProblem, ({ on, line, options }) => {
        const all = everyPath(line, on, options.abilities);
        fc.pre(all.length <= 3000);
        ways = Math.max(ways, all.length);
        const path = breathPath(line, on, options);
        expect(path.cost).toBeCloseTo(cheapest(all, line, options.weights), 9);
        expect(path.cost).toBeCloseTo(pathCost(line, path.actions, options.weights), 9);
        for (const [index, note] of line.entries()) {
          const first = line.findIndex((one) => one.choice === note.choice);
          expect(path.actions[index]).toEqual(path.actions[first]);
        }
      }),
      { numRuns: 1000 },
    );
    expect(ways).toBeGreaterThan(100);
  });

  test("costs as much as going note by note finds on a line of two hundred notes", () => {
    // Forward sums as in Bellman 1957: for each action of a note the least of all ways to come to it.
    fc.assert(
      fc.property(
        anyHarp.chain((on) => anyLine(on, 200).map((line) => ({ on, line }))),
        anyWeights,
        ({ on, line: alike }, weights) => {
          const line = alike.map((note, index) => ({ ...note, choice: index }));
          const path = breathPath(line, on, { abilities: EVERYTHING, weights });
          expect(path.cost).toBeCloseTo(forwardSum(line, on, weights), 6);
        },
      ),
      { numRuns: 100 },
    );
  });

  test("keeps a pin and finds the cheapest of the rest", () => {
    let pinned = 0;
    fc.assert(
      fc.property(anyProblem, fc.nat(), fc.nat(), ({ on, line, options }, which, way) => {
        const note = which % line.length;
        const able = actionsForNote(on, noteAt(line[note]?.midi ?? 0, 0).midi, options.abilities);
        const action = able[way % Math.max(1, able.length)];
        fc.pre(action !== undefined);
        if (action === undefined) return;
        const all = everyPath(line, on, options.abilities);
        fc.pre(all.length <= 3000);
        pinned++;
        const kept = all.filter((path) => {
          const its = path[note];
          return its !== null && its !== undefined && sameAction(its, action);
        });
        const path = breathPath(line, on, { ...options, pins: [{ note, action }] });
        expect(path.actions[note]).toEqual(action);
        expect(path.cost).toBeCloseTo(cheapest(kept, line, options.weights), 9);
        expect(path.lostPins).toEqual([]);
      }),
      { numRuns: 500 },
    );
    expect(pinned).toBeGreaterThan(100);
  });

  test("lists for every note what the whole path would cost with each other reed action", () => {
    fc.assert(
      fc.property(anyProblem, ({ on, line, options }) => {
        const listed = alternatives(line, on, options);
        const { cost } = breathPath(line, on, options);
        for (const [note, each] of listed.entries()) {
          expect(each.length).toBe(
            actionsForNote(on, noteAt(line[note]?.midi ?? 0, 0).midi, options.abilities).length,
          );
          for (const one of each) {
            const pinned = breathPath(line, on, { ...options, pins: [{ note, action: one.action }] });
            expect(one.cost).toBeCloseTo(pinned.cost, 7);
            expect(one.cost - one.more).toBeCloseTo(cost, 7);
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  test("says beside a pinned note what letting go of the pin would save", () => {
    const line = lineOf("B4 G4 B4");
    const pins = [{ note: 1, action: actionOf("3") }];
    const free = breathPath(line, C);
    const kept = breathPath(line, C, { pins });
    expect(tabs(kept.actions)).toBe("-3 3 -3");
    expect(kept.cost).toBeGreaterThan(free.cost);
    const beside = alternatives(line, C, { pins })[1] ?? [];
    expect(tabs(beside.map((one) => one.action))).toBe("-2 3");
    expect(beside.map((one) => one.cost)).toEqual([
      expect.closeTo(free.cost, 9),
      expect.closeTo(kept.cost, 9),
    ]);
  });

  test("takes a pin beyond the player's abilities, for it is asked for", () => {
    const pins = [{ note: 0, action: actionOf("4o") }];
    expect(tabs(breathPath(lineOf("Eb5 D5"), C, { pins }).actions)).toBe("4o -4");
  });

  test("says which pin it cannot keep, and plays the line all the same", () => {
    const pins = [
      { note: 0, action: actionOf("5") },
      { note: 9, action: actionOf("4") },
    ];
    const path = breathPath(lineOf("C5 D5"), C, { pins });
    expect(tabs(path.actions)).toBe("4 -4");
    expect(path.lostPins.map((lost) => lost.reason)).toEqual([
      "this reed action does not sound the note on this harp",
      "there is no note 10",
    ]);
  });

  test("names the notes the harp lacks, the octaves that have them, and plays the rest", () => {
    // [F1] [calc] Natural notes missing from a C harp without bends: F4, A4, B6. An octave up F5 and A5 are 5 and 6 draw.
    const path = breathPath(lineOf("C4 F4 A4 C5"), C, { abilities: PLAIN_ONLY });
    expect(tabs(path.actions)).toBe("1 x x 4");
    expect(path.missing).toEqual([
      { note: 1, midi: 65, where: "bar 1", octaves: [12, 24] },
      { note: 2, midi: 69, where: "bar 1", octaves: [12, 24] },
    ]);
    // [calc] an octave up C5 F5 A5 C6 and two octaves up C6 F6 A6 C7 are all plain.
    expect(path.betterShifts).toEqual([
      { semitones: 12, missing: 0 },
      { semitones: 24, missing: 0 },
    ]);
  });

  test("of a line nothing of which can be sounded says so without failing", () => {
    const path = breathPath(lineOf("C1 D1"), C);
    expect(tabs(path.actions)).toBe("x x");
    expect(path.cost).toBe(0);
    expect(breathPath([], C).actions).toEqual([]);
  });

  test("plays each note by itself where what is played alike hangs together in too many ways", () => {
    // [calc] E5 on an augmented C harp is 5 blow or 4 overblow. 23 choices, every two of them neighbours somewhere, make a
    // table of 2^23 = 8.4 million entries.
    const layout = stockLayout("augmented");
    if (layout === null) throw new Error("no augmented layout");
    const on = inKey(layout, "C");
    expect(actionsForNote(on, midi(76), EVERYTHING).length).toBe(2);
    const choices = Array.from({ length: 23 }, (_, n) => n);
    const pairs = choices.flatMap((one) => choices.flatMap((other) => (one < other ? [one, other] : [])));
    const line = pairs.map((choice, index) => ({ ...noteAt(76, index), choice }));
    const path = breathPath(line, on, { abilities: EVERYTHING });
    expect(path.playedAlike).toBe(false);
    expect(path.missing).toEqual([]);
    expect(path.cost).toBeCloseTo(
      breathPath(
        line.map((note, index) => ({ ...note, choice: index })),
        on,
        { abilities: EVERYTHING },
      ).cost,
      9,
    );
  });

  test("asks less of a line the more time there is", () => {
    fc.assert(
      fc.property(
        anyHarp.chain((on) => anyLine(on, 12).map((line) => ({ on, line }))),
        ({ on, line }) => {
          const slow = line.map((note) => ({
            ...note,
            startSeconds: seconds(2 * note.startSeconds),
            lengthSeconds: seconds(2 * note.lengthSeconds),
          }));
          const weights = { ...FIRST_WEIGHTS, toneChange: 0 };
          const options = { abilities: EVERYTHING, weights };
          expect(breathPath(slow, on, options).cost).toBeLessThanOrEqual(
            breathPath(line, on, options).cost + 1e-9,
          );
        },
      ),
    );
  });
});
