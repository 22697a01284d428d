import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { harpInKey, harpName, REGISTERS } from "../../../core/instrument/harp.ts";
import { EVERYTHING, PLAIN_AND_BENDS, PLAIN_ONLY } from "../../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT, STOCK_LAYOUTS, stockLayout } from "../../../core/instrument/stock-layouts.ts";
import { breathPath } from "../../../core/path/breath-path.ts";
import { type Fit, Fitter, fitTunes } from "../../../core/path/fit.ts";
import { harpsToTry } from "../../../core/path/harps-to-try.ts";
import { lineOfTune } from "../../../core/path/line.ts";
import { runToEnd } from "../../../core/path/long-work.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import { anyHarp } from "../../support/any-layout.ts";
import { harp } from "../../support/harps.ts";
import { seededTunes } from "../../support/seeded-tunes.ts";
import { tuneOf } from "../../support/small-tunes.ts";
import { anyWeights } from "./lines.ts";

const G_SCALE = tuneOf([{ written: 0, notes: "G4 A4 B4 C5 D5 E5 F#5 G5" }]);

describe("how a tune lies on a harp", () => {
  test("a G major scale from G4 is plain on a G harp's second octave, in 1st position", () => {
    // [F2] [calc] hole-1 blow of a G harp is G3 (55): G4 to G5 is 4 blow to 7 blow.
    const [fit] = new Fitter([harp("G")]).best(G_SCALE);
    expect(fit).toMatchObject({
      plain: 8,
      bent: 0,
      overblown: 0,
      missing: 0,
      position: 1,
      shift: 0,
      register: "usual",
    });
  });

  test("on a C harp it needs bends and an overblow's place, in 2nd position", () => {
    // [F1] [calc] C harp: A4 is 3 draw bent twice, F#5 no bend: only the 5 overblow; G B C D E G plain.
    const onC = (options: object) => new Fitter([harp("C")], { shifts: [0], ...options }).best(G_SCALE)[0];
    expect(onC({ abilities: PLAIN_AND_BENDS })).toMatchObject({ plain: 6, bent: 1, missing: 1, position: 2 });
    expect(onC({ abilities: { bends: true, overbends: true } })).toMatchObject({
      bent: 1,
      overblown: 1,
      missing: 0,
    });
    expect(onC({ abilities: PLAIN_ONLY })).toMatchObject({ plain: 6, missing: 2 });
  });

  test("lists every harp with every octave, fewest missing notes first", () => {
    const harps = harpsToTry({ layouts: [STANDARD_LAYOUT] });
    const all = new Fitter(harps).all(G_SCALE);
    expect(all.length).toBe(12 * 3);
    const missing = all.map((fit) => fit.missing);
    expect([...missing].sort((one, other) => one - other)).toEqual(missing);
    expect(all.filter((fit) => harpName(fit.harp) === "D harp").map((fit) => fit.position)).toEqual([
      12, 12, 12,
    ]);
  });

  test("the best are exactly the best: as working out every path finds", () => {
    const layouts = ["standard", "diminished", "augmented", "circular-from-the-key", "solo-12"].flatMap(
      (id) => stockLayout(id) ?? [],
    );
    const harps = harpsToTry({ layouts });
    let loose = 0;
    for (const abilities of [PLAIN_AND_BENDS, EVERYTHING]) {
      for (const tune of seededTunes(6, 7)) {
        const fitter = new Fitter(harps, { abilities, best: 4 });
        const every = fitter.all(tune).map((fit) => {
          const path = breathPath(lineOfTune(tune, { shift: fit.shift }), fit.harp, { abilities });
          return { fit, path, lie: `${fit.harp.layout.id} ${fit.harp.keyNote - fit.shift}` };
        });
        for (const { fit, path } of every) {
          expect(fit.missing).toBe(path.missing.length);
          if (fit.exact) expect(fit.cost).toBeCloseTo(path.cost, 7);
          else expect(fit.cost).toBeLessThanOrEqual(path.cost + 1e-7);
          if (fit.cost < path.cost - 0.5) loose++;
        }
        const ranked = every
          .map(({ path, lie }) => ({ missing: path.missing.length, cost: path.cost, lie }))
          .sort((one, other) => one.missing - other.missing || one.cost - other.cost);
        const asRanked = (fits: readonly Fit[]) =>
          fits.map(({ missing, cost, exact }) => ({ missing, cost: cost.toFixed(6), exact }));
        const first = (rows: typeof ranked) =>
          rows.slice(0, 4).map(({ missing, cost }) => ({ missing, cost: cost.toFixed(6), exact: true }));
        expect(asRanked(fitter.all(tune).slice(0, 4))).toEqual(first(ranked));
        const once = ranked.filter((one, place) => ranked.findIndex(({ lie }) => lie === one.lie) === place);
        expect(asRanked(fitter.best(tune))).toEqual(first(once));
      }
    }
    // Some bounds were no costs, so there was something to settle.
    expect(loose).toBeGreaterThan(20);
  });

  test("of harps that take the same moves the best list names one", () => {
    const [low, usual] = [harpInKey(STANDARD_LAYOUT, "D", undefined, "low"), harp("D")];
    if (low === null) throw new Error("no low D harp");
    const best = new Fitter([low, usual], { shifts: [0, 12] }).best(G_SCALE);
    // [calc] low D moved up is D as written: three ways to lie in four places.
    expect(best.length).toBe(3);
    expect(new Fitter([low, usual], { shifts: [0, 12] }).all(G_SCALE).length).toBe(4);
  });

  test("a bound never lies above the path, on any layout with any weights", () => {
    const [tune] = seededTunes(1, 3);
    if (tune === undefined) throw new Error("one tune");
    fc.assert(
      fc.property(anyHarp, anyWeights, (on, weights) => {
        const options = { weights, best: 0, shifts: [0] };
        for (const fit of new Fitter([on], options).all(tune)) {
          const path = breathPath(lineOfTune(tune), on, { weights });
          expect(fit.missing).toBe(path.missing.length);
          expect(fit.cost).toBeLessThanOrEqual(path.cost + 1e-6);
          if (fit.exact) expect(fit.cost).toBeCloseTo(path.cost, 6);
        }
      }),
      { numRuns: 150 },
    );
  });

  test("many tunes are fitted one a step, and may be stopped between", () => {
    const tunes = seededTunes(4, 2);
    const harps = harpsToTry({ layouts: [STANDARD_LAYOUT] });
    const work = fitTunes(tunes, harps, { best: 2 });
    expect(work.next().value).toEqual({ done: 1, of: 4 });
    expect(work.next().value).toEqual({ done: 2, of: 4 });
    const report = runToEnd(fitTunes(tunes, harps, { best: 2 }));
    expect(report.best.map((fits) => fits.length)).toEqual([2, 2, 2, 2]);
    expect(report.harps.length).toBe(12);
    for (const { plain, playable } of report.harps) expect(plain).toBeLessThanOrEqual(playable);
    expect(Math.max(...report.harps.map((one) => one.playable))).toBeGreaterThan(0);
  });

  test("an empty tune and no harps are answers, not failures", () => {
    const empty = { ...G_SCALE, notes: [], bars: [] };
    expect(new Fitter([harp("G")]).best(empty)[0]).toMatchObject({ cost: 0, missing: 0 });
    expect(new Fitter([]).best(G_SCALE)).toEqual([]);
    expect(runToEnd(fitTunes([], [])).best).toEqual([]);
  });
});

describe("which harps come into question", () => {
  test("fifteen layouts and the standard one in twelve keys, low and high sets where they are made", () => {
    expect(harpsToTry({ layouts: STOCK_LAYOUTS }).length).toBe(16 * 12);
    // [calc] key notes from low C (48) to high G (67): 20.
    expect(harpsToTry({ layouts: [STANDARD_LAYOUT], registers: REGISTERS }).length).toBe(20);
    expect(harpsToTry({ layouts: [STANDARD_LAYOUT], keys: ["Bb", "D"] }).map(harpName)).toEqual([
      "Bb harp",
      "D harp",
    ]);
  });

  test("the raised third blow gives the low sixth that the standard layout lacks", () => {
    // [calc] E4 above G3 on a G harp: 3 blow raised by a tone.
    const raised = stockLayout("raised-third-blow");
    if (raised === null) throw new Error("no raised third blow");
    const tune = tuneOf([{ written: 0, notes: "G3 B3 D4 E4 G4" }]);
    const options = { abilities: PLAIN_ONLY, shifts: [0], weights: FIRST_WEIGHTS };
    const on = (layout: typeof raised) =>
      new Fitter(harpsToTry({ layouts: [layout], keys: ["G"] }), options).best(tune)[0];
    expect(on(STANDARD_LAYOUT)?.missing).toBe(1);
    expect(on(raised)?.missing).toBe(0);
  });
});
