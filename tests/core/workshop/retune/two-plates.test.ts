import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Harp } from "../../../../core/instrument/harp.ts";
import { STANDARD_LAYOUT } from "../../../../core/instrument/stock-layouts.ts";
import { harpsToTry } from "../../../../core/path/harps-to-try.ts";
import { USUAL_LIMITS } from "../../../../core/workshop/retune/reed-work.ts";
import { stockToBuy } from "../../../../core/workshop/retune/stock-to-buy.ts";
import { twoPlates } from "../../../../core/workshop/retune/two-plates.ts";
import { inKey } from "../../../support/any-layout.ts";
import { harpOf, small } from "./harps.ts";

const STOCK = harpsToTry({ layouts: [STANDARD_LAYOUT] });
const found = (wanted: Harp) =>
  twoPlates(wanted, STOCK, USUAL_LIMITS, stockToBuy(wanted, STOCK, USUAL_LIMITS).tradeOff);

/** [calc] Both measures of every two plates by plain semitones, each held against each and against every single harp. */
function byTrying(wanted: Harp): readonly string[] {
  const moves = (harp: Harp, breath: "blow" | "draw") =>
    wanted.layout.holes.map((hole, place) =>
      Math.abs(
        wanted.keyNote + (hole[breath] ?? 0) - harp.keyNote - (harp.layout.holes[place]?.[breath] ?? 0),
      ),
    );
  const measured = (one: Harp, other: Harp) => {
    const all = [...moves(one, "blow"), ...moves(other, "draw")];
    return [100 * all.reduce((sum, move) => sum + move, 0), 100 * Math.max(...all)] as const;
  };
  const singles = STOCK.map((harp) => measured(harp, harp));
  const pairs = STOCK.flatMap((one) => STOCK.map((other) => measured(one, other)));
  const left = pairs.filter(
    ([total, largest]) =>
      !singles.some(([t, l]) => t <= total && l <= largest) &&
      !pairs.some(([t, l]) => t <= total && l <= largest && (t < total || l < largest)),
  );
  return [...new Set(left.map(([total, largest]) => `${total} ${largest}`))].sort();
}

const inText = (plates: ReturnType<typeof twoPlates>) =>
  plates.map(({ totalCents, largestCents }) => `${totalCents} ${largestCents}`).sort();

describe("a plate of each of two harps", () => {
  test("a layout whose draw plate is that of another key is made of two harps with nothing to tune", () => {
    // [calc] Blow of C, draw of D: each draw reed a whole tone above the standard one.
    const { holes } = STANDARD_LAYOUT;
    const layout = small(
      holes.map(({ blow }) => blow),
      holes.map(({ draw }) => (draw === null ? null : draw + 2)),
    );
    const [best] = found(inKey(layout, "C"));
    expect(best).toMatchObject({ totalCents: 0, largestCents: 0, worked: 0, swapped: 0 });
    expect([best?.blow.harp.key, best?.draw.harp.key]).toEqual(["C", "D"]);
  });

  test("what one harp does as well is not worth two", () => {
    expect(found(harpOf("standard", "A"))).toEqual([]);
    // [calc] Raised 3-blow on C: with the draw plate of C and the blow plate of Db 3 blow rises one semitone and nine fall one.
    expect(inText(found(harpOf("raised-third-blow", "C")))).toEqual(["1000 100"]);
  });

  test("any layout of ten holes, held against every two plates and every harp", () => {
    const reed = fc.integer({ min: -5, max: 38 });
    const rows = fc.array(reed, { minLength: 10, maxLength: 10 });
    fc.assert(
      fc.property(rows, rows, fc.constantFrom("G", "C", "F#"), (blow, draw, key) => {
        const wanted = inKey(small(blow, draw), key);
        expect(inText(found(wanted))).toEqual(byTrying(wanted));
      }),
      { numRuns: 100 },
    );
  });
});
