import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { STANDARD_LAYOUT } from "../../../core/instrument/stock-layouts.ts";
import { runToEnd } from "../../../core/path/long-work.ts";
import { midi } from "../../../core/units.ts";
import { coverLine } from "../../../core/workshop/design/cover-design.ts";
import { FIRST_LIMITS, type Limits } from "../../../core/workshop/design/limits.ts";
import { loosenings } from "../../../core/workshop/design/loosen.ts";
import type { DesignWish } from "../../../core/workshop/design/wish.ts";
import { wishFaults } from "../../../core/workshop/design/wish-faults.ts";
import { inKey } from "../../support/any-layout.ts";

const HARP = inKey(STANDARD_LAYOUT, "C");
/** G major from D4 (MIDI 62) to B6 (95). */
const wishWith = (limits: Partial<Limits>, mustHave: readonly string[] = [], high = 95): DesignWish => ({
  harp: HARP,
  scales: [{ homeName: "G", home: 7, mode: "major", low: midi(62), high: midi(high) }],
  limits: { ...FIRST_LIMITS, ...limits },
  chordsCount: false,
  mustHave,
});
const isPossible = (wish: DesignWish) => runToEnd(coverLine(wish)).kind === "line";
const looseningsOf = (wish: DesignWish) => {
  expect(isPossible(wish)).toBe(false);
  return runToEnd(loosenings(wish));
};

describe("what is impossible is told with what makes it possible", () => {
  test("a semitone is too little, two are enough", () => {
    const [first, ...others] = looseningsOf(wishWith({ mostSemitones: 1 }));
    // [calc] the fewest changes within 2 semitones are 7, within 1 there is no layout.
    expect(first?.words).toEqual(["let reeds move 2 semitones; no layout keeps every reed within 1"]);
    expect(others.map(({ kinds }) => kinds)).toEqual([["notes"]]);
  });

  test("four reeds are too few: seven within two semitones, or none of that many with more", () => {
    const found = looseningsOf(wishWith({ mostChanged: 6 }));
    // [calc] 7 changes within 2 semitones, 6 within 4 and not within 3.
    expect(found.map(({ words }) => words).slice(0, 2)).toEqual([
      ["let reeds move 4 semitones; no layout keeps every reed within 2"],
      ["let 7 reeds be changed; 6 are too few"],
    ]);
  });

  test("two limits together where neither alone is enough", () => {
    // [calc] within 1 semitone there is none, however many reeds; with 3 reeds none, however far (5 at least).
    const found = looseningsOf(wishWith({ mostSemitones: 1, mostChanged: 3 }));
    const both = found.find(({ kinds }) => kinds.length === 2);
    expect(both?.words).toEqual([
      "let reeds move 2 semitones; no layout keeps every reed within 1",
      "let 7 reeds be changed; 3 are too few",
    ]);
  });

  test("a reed that must stay stands in the way, another does not", () => {
    const stays = [
      { hole: 2, breath: "blow" as const, up: 0, down: 0 },
      { hole: 10, breath: "blow" as const, up: 0, down: 0 },
    ];
    // [calc] no other reed lies within 2 semitones of B6 but 10 blow (C7) and 10 draw (A6), and A6 is wanted as well.
    const found = looseningsOf(wishWith({ reeds: stays }));
    const reeds = found.find(({ kinds }) => kinds[0] === "reeds");
    expect(reeds?.words).toContain("let 10 blow move as the others may; it must stay now");
  });

  test("holes whose order cannot be are named, and no others", () => {
    const found = looseningsOf(wishWith({ order: "draw higher" }));
    const order = found.find(({ kinds }) => kinds.join() === "order");
    expect(order).toBeDefined();
    expect(order?.words.length).toBeLessThan(10);
  });

  test("a bend that cannot be kept is named", () => {
    // [calc] only 10 blow (C7) and 10 draw (A6) reach B6 within 2 semitones; a hole with a reed on B6 does not bend to it.
    const found = looseningsOf(wishWith({ bends: [{ hole: 10, breath: "blow", bentSemitones: 1 }] }));
    expect(found.map(({ words }) => words)).toContainEqual(["give up the bend of 10 blow by 1"]);
  });

  test("a chord that cannot be kept is named, one that can is not", () => {
    // [calc] B6 comes from 10 blow, which then is no C, or from 10 draw, which then is no A: with both chords kept it has no reed.
    const chords = [
      { breath: "blow" as const, holes: [8, 9, 10] },
      { breath: "draw" as const, holes: [9, 10] },
      { breath: "draw" as const, holes: [3, 4] },
    ];

    const chord = looseningsOf(wishWith({ chords })).find(({ kinds }) => kinds.join() === "chords");
    expect(chord?.words).toContain("give up the chord 9-10 draw");
    expect(chord?.words).not.toContain("give up the chord 3-4 draw");
  });

  test("more notes than reeds: the range is shortened as far as needed", () => {
    // [calc] G major from D4 to D8 has 29 notes, the harp 20 reeds: 9 too many.
    const found = looseningsOf(wishWith({ mostSemitones: 12 }, [], 110));
    const shorter = found.find(({ kinds }) => kinds[0] === "notes");
    expect(shorter?.words[0]).toMatch(
      /^29 notes are more than the harp's 20 reeds: ask for D4 to .* only, 9 notes fewer$/,
    );
    expect(shorter === undefined ? false : isPossible(shorter.wish)).toBe(true);
  });

  test("every answer is possible, and what has been loosened by a number not by one less", () => {
    let seen = 0;
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 2 }),
        fc.option(fc.integer({ min: 0, max: 8 })),
        fc.constantFrom("free" as const, "draw higher" as const),
        fc.subarray(["IV", "V", "iii"]),
        fc.integer({ min: 74, max: 95 }),
        (mostSemitones, mostChanged, order, mustHave, high) => {
          const wish = wishWith({ mostSemitones, mostChanged, order }, mustHave, high);
          if (wishFaults(wish).length > 0 || isPossible(wish)) return;
          for (const { kinds, wish: looser } of runToEnd(loosenings(wish))) {
            seen++;
            expect(isPossible(looser)).toBe(true);
            const { limits } = looser;
            const tighter = (part: Partial<Limits>) => ({ ...looser, limits: { ...limits, ...part } });
            if (kinds.includes("semitones"))
              expect(isPossible(tighter({ mostSemitones: limits.mostSemitones - 1 }))).toBe(false);
            if (kinds.includes("changed") && limits.mostChanged !== null)
              expect(isPossible(tighter({ mostChanged: limits.mostChanged - 1 }))).toBe(false);
          }
        },
      ),
      { seed: 5, numRuns: 12 },
    );
    expect(seen).toBeGreaterThan(10);
  });
});
