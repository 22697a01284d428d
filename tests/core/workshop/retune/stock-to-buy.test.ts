import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Harp, harpName, REGISTERS, registerOf } from "../../../../core/instrument/harp.ts";
import type { Layout } from "../../../../core/instrument/layout.ts";
import { STOCK_LAYOUTS, stockLayout } from "../../../../core/instrument/stock-layouts.ts";
import { harpsToTry } from "../../../../core/path/harps-to-try.ts";
import { cents } from "../../../../core/units.ts";
import { harpsForSet, MEASURES } from "../../../../core/workshop/retune/harps-for-set.ts";
import { USUAL_LIMITS } from "../../../../core/workshop/retune/reed-work.ts";
import { STOCK_HARPS } from "../../../../core/workshop/retune/retuning-plan.ts";
import {
  compareFits,
  fitOf,
  type StockChoice,
  type StockFit,
  stockToBuy,
} from "../../../../core/workshop/retune/stock-to-buy.ts";
import { inKey } from "../../../support/any-layout.ts";
import { bestByTrying, bySemitones, unbeatenPairs } from "../../../support/retuning-truth.ts";
import { harpOf, measured, small } from "./harps.ts";

const STANDARD = stockLayout("standard");
if (STANDARD === null) throw new Error("there is a standard layout");
const STANDARD_HARPS = harpsToTry({ layouts: [STANDARD], registers: REGISTERS });

const pairsOf = ({ tradeOff }: StockChoice) =>
  tradeOff.map(({ totalCents, largestCents }) => `${totalCents} ${largestCents}`).sort();

describe("which harp to buy", () => {
  test("every harp of the catalogue is tried: sixteen layouts on twenty key notes", () => {
    expect(STOCK_HARPS).toHaveLength(16 * 20); // [calc] key notes C3 to G4
    const choice = stockToBuy(harpOf("raised-third-blow", "G"), STOCK_HARPS, USUAL_LIMITS);
    // [calc] The solo layout of 12 holes and the extended one of 16 have other holes.
    expect([choice.tried, choice.unfit]).toEqual([14 * 20, 2 * 20]);
  });

  test("a layout of the catalogue is bought as it is", () => {
    const wanted = harpOf("country", "A");
    const [first, ...rest] = stockToBuy(wanted, STOCK_HARPS, USUAL_LIMITS).tradeOff;
    expect(rest).toEqual([]);
    expect(first).toMatchObject({ totalCents: 0, largestCents: 0, worked: 0, swapped: 0 });
    expect(first?.harp).toMatchObject({ key: "A", keyNote: 57, layout: { id: "country" } });
  });

  test("of standard harps alone, raised 3-blow with raised 4ths is best made of its own key", () => {
    const wanted = harpOf("raised-third-blow-with-raised-fourths", "C");
    const { tradeOff } = stockToBuy(wanted, STANDARD_HARPS, USUAL_LIMITS);
    // [calc] 3 blow +2, 5 and 9 draw +1: 400 cents, 200 at most. Db is nearer in its largest change: 17 reeds down a semitone,
    // 3 blow up one, 5 and 9 draw as they are: 1,800 cents, 100 at most.
    expect(
      tradeOff.map(({ harp, totalCents, largestCents }) => [harp.key, totalCents, largestCents]),
    ).toEqual([
      ["C", 400, 200],
      ["Db", 1800, 100],
    ]);
  });

  test("a circular harp is nowhere near a standard one, and the count of reeds to swap says so", () => {
    const [best] = stockToBuy(harpOf("circular-from-the-key", "C"), STANDARD_HARPS, USUAL_LIMITS).tradeOff;
    expect(best?.swapped).toBeGreaterThan(0);
  });

  test("low and high sets are tried: a circular G low is made of a low harp", () => {
    // [calc] A low D wanted a semitone up in 5 draw: low D itself, 100 cents; the usual D lies an octave off.
    const wanted = harpOf("country", "D", "low");
    const [best] = stockToBuy(wanted, STANDARD_HARPS, USUAL_LIMITS).tradeOff;
    expect(best).toMatchObject({ totalCents: 100, largestCents: 100 });
    expect(best === undefined ? "" : harpName(best.harp)).toBe("low D harp");
  });

  test("of equal harps the one of the usual register, then the first in the list", () => {
    const wanted = harpOf("standard", "F#");
    // [calc] F (65) and high G (67) both lie a semitone from F# (66).
    const [usual, high] = [harpOf("standard", "F"), harpOf("standard", "G", "high")];
    for (const stock of [
      [usual, high],
      [high, usual],
    ])
      expect(stockToBuy(wanted, stock, USUAL_LIMITS).tradeOff.map(({ harp }) => registerOf(harp))).toEqual([
        "usual",
      ]);
    const alike = { ...usual, layout: { ...usual.layout, id: "alike" } };
    for (const stock of [
      [usual, alike],
      [alike, usual],
    ])
      expect(stockToBuy(wanted, stock, USUAL_LIMITS).tradeOff[0]?.harp).toBe(stock[0]);
  });

  test("nothing can be bought where no harp has the holes", () => {
    const choice = stockToBuy(inKey(small([0], [2]), "C"), STOCK_HARPS, USUAL_LIMITS);
    expect([choice.tried, choice.unfit, choice.tradeOff]).toEqual([0, STOCK_HARPS.length, []]);
  });

  test.each(STOCK_LAYOUTS.map((layout) => [layout.id, layout] as const))(
    "%s of all layouts but itself, held against every harp one by one",
    (_, layout) => {
      const stock = STOCK_HARPS.filter((harp) => harp.layout !== layout);
      for (const wanted of [inKey(layout, "Eb"), harpOf(layout, "F", "low")]) {
        const choice = stockToBuy(wanted, stock, USUAL_LIMITS);
        expect(pairsOf(choice)).toEqual(unbeatenPairs(stock, wanted));
        for (const fit of [...choice.tradeOff, ...choice.byLayout])
          expect([fit.totalCents, fit.largestCents]).toEqual(bySemitones(fit.harp, wanted));
        // Each layout once, and of each its least total.
        const ids = choice.byLayout.map(({ harp }) => harp.layout.id);
        expect(new Set(ids).size).toBe(ids.length);
        for (const { harp, totalCents } of choice.byLayout) {
          const totals = stock
            .filter((one) => one.layout === harp.layout)
            .map((one) => bySemitones(one, wanted)?.[0] ?? Number.POSITIVE_INFINITY);
          expect(totalCents).toBe(Math.min(...totals));
        }
      }
    },
  );

  const anyWanted = fc
    .array(fc.tuple(fc.integer({ min: -5, max: 38 }), fc.integer({ min: -5, max: 38 })), {
      minLength: 10,
      maxLength: 10,
    })
    .map(
      (holes): Layout =>
        small(
          holes.map(([blow]) => blow),
          holes.map(([, draw]) => draw),
        ),
    );

  test("any layout of ten holes, held against every harp one by one", () => {
    fc.assert(
      fc.property(anyWanted, fc.constantFrom("G", "C", "F#"), (layout, key) => {
        const wanted = inKey(layout, key);
        const choice = stockToBuy(wanted, STOCK_HARPS, USUAL_LIMITS);
        expect(pairsOf(choice)).toEqual(unbeatenPairs(STOCK_HARPS, wanted));
      }),
      { numRuns: 40 },
    );
  });
});

describe("a whole set of harps", () => {
  test("each wanted key has its own harp to buy", () => {
    const wanted = ["G", "D", "A"].map((key) => harpOf("raised-third-blow", key));
    const plan = harpsForSet(wanted, [], STANDARD_HARPS, USUAL_LIMITS, "total");
    expect(plan.sources.map(({ fit, owned }) => [fit.harp.key, owned])).toEqual([
      ["G", null],
      ["D", null],
      ["A", null],
    ]);
    expect([plan.totalCents, plan.largestCents]).toEqual([600, 200]); // [calc] 3 x 200
  });

  test("by the largest change other harps are bought than by the total", () => {
    const wanted = [harpOf("raised-third-blow", "C")];
    const keys = MEASURES.map((by) => {
      const [source] = harpsForSet(wanted, [], STANDARD_HARPS, USUAL_LIMITS, by).sources;
      return [source?.fit.harp.key, source?.fit.largestCents];
    });
    // [calc] Db: 3 blow up a semitone, the nineteen others down one.
    expect(keys).toEqual([
      ["C", 200],
      ["Db", 100],
    ]);
  });

  test("harps the player has are used first, each once, but not where a reed would be past the limit", () => {
    const wanted = ["G", "A"].map((key) => harpOf("country", key));
    const owned = [harpOf("standard", "G"), harpOf("standard", "C")];
    const plan = harpsForSet(wanted, owned, STANDARD_HARPS, USUAL_LIMITS, "total");
    expect(plan.sources.map(({ owned: own, fit }) => [own, fit.harp.key])).toEqual([
      [0, "G"],
      [null, "A"],
    ]);
  });

  test("a fallen reed makes an own harp no worse than what its other reeds ask for, if it is within the limit", () => {
    const own = measured(harpOf("standard", "G"), { "4 draw": -60 });
    const fit = fitOf(own, harpOf("standard", "G"), USUAL_LIMITS);
    expect(fit).toMatchObject({ totalCents: 60, largestCents: 60, worked: 1, swapped: 0 });
  });

  test("what nothing can become is told", () => {
    const odd = inKey(small([0], [2]), "C");
    const plan = harpsForSet([odd], [], STOCK_HARPS, USUAL_LIMITS, "total");
    expect([plan.sources, plan.without]).toEqual([[], [odd]]);
  });

  test("as many own harps as can be, with the least of either measure: held against all ways to give them out", () => {
    const lone = (sounds: number) => inKey(small([sounds], [null]), "C");
    const notes = fc.array(fc.integer({ min: 0, max: 6 }), { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(notes, notes, fc.constantFrom(...MEASURES), (wantedNotes, ownedNotes, by) => {
        const wanted = wantedNotes.map(lone);
        const plan = harpsForSet(wanted, ownedNotes.map(lone), [], USUAL_LIMITS, by);
        const best = bestByTrying(wantedNotes, ownedNotes, by);
        const used = plan.sources.filter(({ owned }) => owned !== null);
        expect(new Set(used.map(({ owned }) => owned)).size).toBe(used.length);
        expect([used.length, plan.largestCents, plan.totalCents]).toEqual(
          by === "total"
            ? [best.used, expect.any(Number), best.total]
            : [best.used, best.largest, best.total],
        );
      }),
      { numRuns: 300 },
    );
  });

  test("more than twelve wanted harps are refused", () => {
    const wanted = Array.from({ length: 13 }, () => harpOf("country", "G"));
    expect(() => harpsForSet(wanted, [], STANDARD_HARPS, USUAL_LIMITS, "total")).toThrow(/at most 12/);
  });
});

test("the rule for better harps: total, largest, swapped, worked, usual register", () => {
  const none = { totalCents: cents(0), largestCents: cents(0), worked: 0, swapped: 0 };
  const fit: StockFit = { harp: harpOf("standard", "G"), ...none };
  const as = (some: Partial<Record<keyof typeof none, number>> & { readonly harp?: Harp }) =>
    ({ ...fit, ...some }) as StockFit;
  expect(compareFits(as({ totalCents: 1 }), as({ largestCents: 9 }))).toBeGreaterThan(0);
  expect(compareFits(as({ largestCents: 1 }), as({ swapped: 9 }))).toBeGreaterThan(0);
  expect(compareFits(as({ swapped: 1 }), as({ worked: 9 }))).toBeGreaterThan(0);
  expect(compareFits(as({ harp: harpOf("standard", "C", "low") }), fit)).toBeGreaterThan(0);
  expect(compareFits(fit, fit)).toBe(0);
});
