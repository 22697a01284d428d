import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { align } from "../../../core/score/align.ts";
import {
  type AlignSettings,
  isRight,
  type Played,
  pathCost,
  type Visit,
  type Written,
} from "../../../core/score/align-costs.ts";

const SETTINGS: AlignSettings = { rightNoteCents: 50, startSeconds: 0, stretch: 1 };
/** Notes of half a second, four to the bar. */
const line = (...notes: number[]): Written[] =>
  notes.map((midi, place) => ({
    onSeconds: place * 0.5,
    lengthSeconds: 0.5,
    midi,
    startsBar: place % 4 === 0,
  }));
const heard = (...notes: readonly (readonly [number, number | null])[]): Played[] =>
  notes.map(([onSeconds, midi]) => ({ onSeconds, midi, aloneCost: midi === null ? 0.3 : 1, short: false }));
const inOrder = (count: number): Visit[] =>
  Array.from({ length: count }, (_, n) => ({ written: n, played: n }));

/** Every path there is, tried one by one: the reference for short lines. */
function leastCost(written: readonly Written[], played: readonly Played[]): number {
  const allFrom = (place: number): Visit[][] => {
    if (place === played.length) return [[]];
    const rest = allFrom(place + 1);
    const answers = written.flatMap((_, n) => rest.map((path) => [{ written: n, played: place }, ...path]));
    return [...rest, ...answers];
  };
  return Math.min(...allFrom(0).map((path) => pathCost(path, written, played, SETTINGS)));
}

describe("pairing what was heard with what was written", () => {
  test("a line played as written pairs note for note", () => {
    expect(align(line(60, 62, 64), heard([0, 60], [0.5, 62], [1, 64]), SETTINGS)).toEqual(inOrder(3));
  });

  test("a note left out is missed and its neighbours keep their partners", () => {
    expect(align(line(60, 62, 64), heard([0, 60], [1, 64]), SETTINGS)).toEqual([
      { written: 0, played: 0 },
      { written: 2, played: 1 },
    ]);
  });

  test("a wrong note on its beat is one mistake, not a missed note and one too many", () => {
    expect(align(line(60, 62, 64), heard([0, 60], [0.5, 67], [1, 64]), SETTINGS)).toEqual(inOrder(3));
  });

  test("a note between two beats is one too many", () => {
    expect(align(line(60, 62), heard([0, 60], [0.25, 65], [0.5, 62]), SETTINGS)).toEqual([
      { written: 0, played: 0 },
      { written: 1, played: 2 },
    ]);
  });

  test("a wrong note that is the next note's pitch does not steal the next note's place", () => {
    expect(align(line(60, 62, 64), heard([0, 60], [0.5, 64], [1, 64]), SETTINGS)).toEqual(inOrder(3));
  });

  test("of a pitch written three times and played twice, the one left out is where the gap is", () => {
    expect(align(line(60, 60, 60, 62), heard([0, 60], [1, 60], [1.5, 62]), SETTINGS)).toEqual([
      { written: 0, played: 0 },
      { written: 2, played: 1 },
      { written: 3, played: 2 },
    ]);
  });

  test("a stop, and a start half a minute late, leave every note its partner", () => {
    const played = heard([30, 60], [30.5, 62], [45, 64], [45.5, 65]);
    expect(align(line(60, 62, 64, 65), played, SETTINGS)).toEqual(inOrder(4));
  });

  test("a passage begun again shows as a way back", () => {
    const played = heard([0, 60], [0.5, 62], [1, 64], [3, 60], [3.5, 62], [4, 64], [4.5, 65], [5, 67]);
    expect(align(line(60, 62, 64, 65, 67), played, SETTINGS).map((visit) => visit.written)).toEqual([
      0, 1, 2, 0, 1, 2, 3, 4,
    ]);
  });

  test("a bar left out costs its notes and no others", () => {
    const notes = [60, 62, 64, 65, 67, 69, 71, 72, 74, 76, 77, 79];
    const played = heard(
      ...[60, 62, 64, 65, 74, 76, 77, 79].map((midi, n): [number, number] => [n * 0.5, midi]),
    );
    expect(align(line(...notes), played, SETTINGS).map((visit) => visit.written)).toEqual([
      0, 1, 2, 3, 8, 9, 10, 11,
    ]);
  });

  test("exactly 50 cents off still counts as the note", () => {
    // mir_eval compares with <= unless told to be strict [F 50].
    const [written] = line(60);
    const [inside, outside] = heard([0, 60.5], [0, 60.501]);
    if (written === undefined || inside === undefined || outside === undefined)
      throw new Error("three notes");
    expect(isRight(written, inside, 50)).toBe(true);
    expect(isRight(written, outside, 50)).toBe(false);
  });

  test("nothing written and nothing played pair to nothing", () => {
    expect(align([], [], SETTINGS)).toEqual([]);
    expect(align(line(60), [], SETTINGS)).toEqual([]);
    expect(align([], heard([0, 60]), SETTINGS)).toEqual([]);
  });
});

describe("the pairing of least cost", () => {
  const pitch = fc.integer({ min: 60, max: 63 });
  const kind = fc.record({
    on: fc.double({ min: 0, max: 4, noNaN: true }),
    midi: fc.option(pitch, { nil: null, freq: 6 }),
    short: fc.boolean(),
  });
  const playedLine = (maxLength: number) =>
    fc.array(kind, { maxLength }).map((notes) =>
      [...notes]
        .sort((a, b) => a.on - b.on)
        .map(({ on, midi, short }): Played => {
          const aloneCost = short ? 0.15 : midi === null ? 0.3 : 1;
          return { onSeconds: on, midi, short, aloneCost };
        }),
    );
  const writtenLine = (maxLength: number) => fc.array(pitch, { maxLength }).map((notes) => line(...notes));

  test("no other path costs less, by trying them all on short lines", () => {
    fc.assert(
      fc.property(writtenLine(4), playedLine(5), (written, played) => {
        const cost = pathCost(align(written, played, SETTINGS), written, played, SETTINGS);
        expect(cost).toBeCloseTo(leastCost(written, played), 9);
      }),
      { numRuns: 400 },
    );
  });

  test("nor on lines with more written notes than a near step reaches", () => {
    fc.assert(
      fc.property(writtenLine(10), playedLine(3), (written, played) => {
        const cost = pathCost(align(written, played, SETTINGS), written, played, SETTINGS);
        expect(cost).toBeCloseTo(leastCost(written, played), 9);
      }),
      { numRuns: 200 },
    );
  });

  test("every played note answers at most once, in the order played", () => {
    fc.assert(
      fc.property(writtenLine(20), playedLine(30), (written, played) => {
        const places = align(written, played, SETTINGS).map((visit) => visit.played);
        expect(places).toEqual([...new Set(places)].sort((a, b) => a - b));
      }),
    );
  });
});
