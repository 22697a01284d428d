import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { align, alignmentCost, type Pair, type Played, type Written } from "../../../core/score/align.ts";

const RIGHT = 50;
const line = (...notes: number[]): Written[] =>
  notes.map((midi, place) => ({ onSeconds: place * 0.5, lengthSeconds: 0.5, midi }));
const heard = (...notes: readonly (readonly [number, number | null])[]): Played[] =>
  notes.map(([onSeconds, midi]) => ({ onSeconds, midi }));

/** Every pairing in order, tried one by one: the reference for small cases. */
function leastCost(written: readonly Written[], played: readonly Played[]): number {
  const all = (i: number, j: number): Pair[][] => {
    if (i === written.length && j === played.length) return [[]];
    const ways: Pair[][] = [];
    if (i < written.length && j < played.length)
      ways.push(...all(i + 1, j + 1).map((rest) => [{ written: i, played: j }, ...rest]));
    if (i < written.length)
      ways.push(...all(i + 1, j).map((rest) => [{ written: i, played: null }, ...rest]));
    if (j < played.length) ways.push(...all(i, j + 1).map((rest) => [{ written: null, played: j }, ...rest]));
    return ways;
  };
  return Math.min(...all(0, 0).map((pairs) => alignmentCost(pairs, written, played, RIGHT)));
}

describe("pairing what was heard with what was written", () => {
  test("a line played as written pairs note for note", () => {
    const pairs = align(line(60, 62, 64), heard([0, 60], [0.5, 62], [1, 64]), RIGHT);
    expect(pairs).toEqual([0, 1, 2].map((n) => ({ written: n, played: n })));
  });

  test("a note left out is missed and its neighbours keep their partners", () => {
    const pairs = align(line(60, 62, 64), heard([0, 60], [1, 64]), RIGHT);
    expect(pairs).toEqual([
      { written: 0, played: 0 },
      { written: 1, played: null },
      { written: 2, played: 1 },
    ]);
  });

  test("a wrong note on its beat is one mistake, not a missed note and one too many", () => {
    const pairs = align(line(60, 62, 64), heard([0, 60], [0.5, 67], [1, 64]), RIGHT);
    expect(pairs).toEqual([0, 1, 2].map((n) => ({ written: n, played: n })));
  });

  test("a note between two beats is one too many", () => {
    const pairs = align(line(60, 62), heard([0, 60], [0.25, 65], [0.5, 62]), RIGHT);
    expect(pairs).toContainEqual({ written: null, played: 1 });
    expect(pairs).toHaveLength(3);
  });

  test("a wrong note that is the next note's pitch does not steal the next note's place", () => {
    const pairs = align(line(60, 62, 64), heard([0, 60], [0.5, 64], [1, 64]), RIGHT);
    expect(pairs).toEqual([0, 1, 2].map((n) => ({ written: n, played: n })));
  });

  test("a right note 60 ms late is still that note", () => {
    expect(align(line(60, 62), heard([0, 60], [0.56, 62]), RIGHT)).toEqual(
      [0, 1].map((n) => ({ written: n, played: n })),
    );
  });

  test("exactly 50 cents off still counts as the note", () => {
    // mir_eval compares with <= unless told to be strict [F 50].
    const written = line(60);
    const inside = alignmentCost([{ written: 0, played: 0 }], written, heard([0, 60.5]), RIGHT);
    const outside = alignmentCost([{ written: 0, played: 0 }], written, heard([0, 60.51]), RIGHT);
    expect(inside).toBeLessThan(0.2);
    expect(outside).toBeGreaterThan(1);
  });

  test("nothing written and nothing played pair to nothing", () => {
    expect(align([], [], RIGHT)).toEqual([]);
    expect(align(line(60), [], RIGHT)).toEqual([{ written: 0, played: null }]);
    expect(align([], heard([0, 60]), RIGHT)).toEqual([{ written: null, played: 0 }]);
  });

  const pitch = fc.integer({ min: 60, max: 64 });
  const played = fc
    .array(fc.tuple(fc.double({ min: 0, max: 2, noNaN: true }), fc.option(pitch, { nil: null })), {
      maxLength: 4,
    })
    .map((notes) => heard(...[...notes].sort((a, b) => a[0] - b[0])));
  const written = fc.array(pitch, { maxLength: 4 }).map((notes) => line(...notes));

  test("no other pairing costs less, by trying them all on short lines", () => {
    fc.assert(
      fc.property(written, played, (asked, answer) => {
        const cost = alignmentCost(align(asked, answer, RIGHT), asked, answer, RIGHT);
        expect(cost).toBeCloseTo(leastCost(asked, answer), 9);
      }),
      { numRuns: 300 },
    );
  });

  test("every note on either side appears exactly once, in order", () => {
    fc.assert(
      fc.property(written, played, (asked, answer) => {
        const pairs = align(asked, answer, RIGHT);
        expect(pairs.flatMap((pair) => pair.written ?? [])).toEqual(asked.map((_, n) => n));
        expect(pairs.flatMap((pair) => pair.played ?? [])).toEqual(answer.map((_, n) => n));
      }),
    );
  });
});
