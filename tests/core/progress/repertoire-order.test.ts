import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  changesIn,
  fewestChanges,
  MOST_ORDERED,
  type OrderTune,
} from "../../../core/progress/repertoire/repertoire-order.ts";

const HARPS = ["A", "D", "G", "C"] as const;

const anyTune: fc.Arbitrary<OrderTune> = fc
  .uniqueArray(fc.constantFrom(...HARPS), { minLength: 1, maxLength: 4 })
  .chain((harps) => fc.record({ harps: fc.constant(harps), now: fc.constantFrom(...harps) }));

interface Tried {
  readonly changes: number;
  readonly moved: number;
  readonly turned: number;
}

/** Every order with every choice of harps. */
function* everyWay(tunes: readonly OrderTune[]): Generator<Tried> {
  for (const order of permutations(tunes.map((_, place) => place))) {
    for (const harps of choices(order.map((place) => tunes[place]?.harps ?? []))) {
      yield {
        changes: harps.filter((harp, n) => n > 0 && harp !== harps[n - 1]).length,
        moved: harps.filter((harp, n) => harp !== tunes[order[n] ?? -1]?.now).length,
        turned: turnedIn(order),
      };
    }
  }
}

const turnedIn = (order: readonly number[]) =>
  order.flatMap((one, n) => order.slice(n + 1).filter((later) => later < one)).length;

function* permutations(places: readonly number[]): Generator<readonly number[]> {
  if (places.length === 0) yield [];
  for (const first of places) {
    for (const rest of permutations(places.filter((place) => place !== first))) yield [first, ...rest];
  }
}

function* choices(of: readonly (readonly string[])[]): Generator<readonly string[]> {
  const [first, ...rest] = of;
  if (first === undefined) {
    yield [];
    return;
  }
  for (const one of first) for (const others of choices(rest)) yield [one, ...others];
}

const byMerit = (a: Tried, b: Tried) => a.changes - b.changes || a.moved - b.moved || a.turned - b.turned;

describe("the order of a set with the fewest harp changes", () => {
  test("is as good as the best of all orders and all harps tried, in changes, tunes moved and pairs turned round", () => {
    fc.assert(
      fc.property(fc.array(anyTune, { minLength: 2, maxLength: 5 }), (tunes) => {
        const found = fewestChanges(tunes);
        if (found === null) throw new Error("there is always an order");
        const best = [...everyWay(tunes)].sort(byMerit)[0];
        expect({
          changes: changesIn(found.harps),
          moved: found.harps.filter((harp, n) => harp !== tunes[found.order[n] ?? -1]?.now).length,
          turned: turnedIn(found.order),
        }).toEqual(best);
        expect(found.changes).toBe(best?.changes);
      }),
      { numRuns: 60, seed: 7 },
    );
  });

  test("plays every tune once, each on a harp it may be played on", () => {
    fc.assert(
      fc.property(fc.array(anyTune, { minLength: 2, maxLength: MOST_ORDERED }), (tunes) => {
        const found = fewestChanges(tunes);
        expect([...(found?.order ?? [])].sort((a, b) => a - b)).toEqual(tunes.map((_, place) => place));
        for (const [n, place] of (found?.order ?? []).entries())
          expect(tunes[place]?.harps).toContain(found?.harps[n]);
        expect(found?.changesNow).toBe(changesIn(tunes.map(({ now }) => now)));
        expect(found?.changes).toBeLessThanOrEqual(found?.changesNow ?? -1);
      }),
      { numRuns: 100, seed: 7 },
    );
  });

  test("nine tunes on two harps taken in turn need one change", () => {
    // [calc] five tunes on one harp, then four on the other.
    const tunes = Array.from({ length: 9 }, (_, n) => {
      const now = n % 2 === 0 ? "D" : "G";
      return { harps: [now], now };
    });
    expect(fewestChanges(tunes)).toMatchObject({ changes: 1, changesNow: 8 });
  });

  test("a set that needs no change is left as it stands", () => {
    const tunes = ["D", "D", "G"].map((now) => ({ harps: [now], now }));
    expect(fewestChanges(tunes)).toMatchObject({ order: [0, 1, 2], changes: 1, changesNow: 1 });
  });

  test("one tune has no order, and more than nine are left to the player", () => {
    const tune = { harps: ["D"], now: "D" };
    expect(fewestChanges([tune])).toBeNull();
    expect(fewestChanges(Array.from({ length: 10 }, () => tune))).toBeNull();
  });
});
