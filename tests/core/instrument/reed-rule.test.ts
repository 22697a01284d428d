import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { harpInKey, KEYS_BY_REGISTER, withTemperament } from "../../../core/instrument/harp.ts";
import type { Hole } from "../../../core/instrument/layout.ts";
import {
  actionNote,
  actionsForNote,
  EVERYTHING,
  type InHoles,
  type ReedAction,
  reedActions,
} from "../../../core/instrument/reed-actions.ts";
import { targetCents } from "../../../core/instrument/target-cents.ts";
import type { Temperament } from "../../../core/instrument/temperament.ts";
import { SCHEME_IDS } from "../../../core/pitch/tuning-schemes.ts";
import { midi } from "../../../core/units.ts";
import { anyHarp, anyLayout } from "../../support/any-layout.ts";

/** What the two-reed rule of the fact sheet, section 2, allows in a hole, written apart from the code [F 8, F 9, F 10]. */
function allowed(hole: Hole): readonly string[] {
  const plain = (["blow", "draw"] as const).flatMap((breath) =>
    hole[breath] === null ? [] : [`${breath} plain ${hole[breath]}`],
  );
  const { blow, draw } = hole;
  if (blow === null || draw === null || blow === draw) return plain;
  const free = (breath: "blow" | "draw") => hole.valved?.includes(breath) !== true;
  const high = Math.max(blow, draw);
  const bendBreath = draw > blow ? "draw" : "blow";
  const overBreath = draw > blow ? "blow" : "draw";
  const count = Math.max(0, Math.abs(draw - blow) - 1); // full-semitone bends = d - 1
  const bends = Array.from({ length: count }, (_, step) => `${bendBreath} bend ${high - step - 1}`);
  const over = `${overBreath} ${overBreath === "blow" ? "overblow" : "overdraw"} ${high + 1}`;
  return [...plain, ...(free(bendBreath) ? bends : []), ...(free(overBreath) ? [over] : [])];
}

const inHoles: fc.Arbitrary<InHoles> = fc.oneof(
  fc.boolean(),
  fc.uniqueArray(fc.integer({ min: 1, max: 16 }), { maxLength: 4 }),
);
const switchedOn = (where: InHoles, hole: number) =>
  where === true || (where !== false && where.includes(hole));

const plainOf = (actions: readonly ReedAction[]) => actions.map((action) => action.technique === "plain");

describe("the two-reed rule on any layout", () => {
  test("every hole gives what the rule allows, and nothing else", () => {
    fc.assert(
      fc.property(anyLayout, (layout) => {
        const found = reedActions(layout, EVERYTHING);
        layout.holes.forEach((hole, index) => {
          const own = found.filter((one) => one.action.hole === index + 1);
          const told = own.map((one) => `${one.action.breath} ${one.action.technique} ${one.sounds}`);
          expect(told.sort()).toEqual([...allowed(hole)].sort());
        });
      }),
    );
  });

  test("a player's switches take away just the holes they name", () => {
    fc.assert(
      fc.property(anyLayout, inHoles, inHoles, (layout, bends, overbends) => {
        const wanted = reedActions(layout, EVERYTHING).filter(({ action }) => {
          if (action.technique === "plain") return true;
          return switchedOn(action.technique === "bend" ? bends : overbends, action.hole);
        });
        expect(reedActions(layout, { bends, overbends })).toEqual(wanted);
      }),
    );
  });

  test("all ways to a note are told, plain ones first", () => {
    fc.assert(
      fc.property(anyHarp, (harp) => {
        let told = 0;
        for (let note = 0; note < 128; note++) {
          const ways = actionsForNote(harp, midi(note), EVERYTHING);
          for (const action of ways) expect(actionNote(harp, action)).toBe(note);
          const plain = plainOf(ways);
          expect(plain.lastIndexOf(true)).toBeLessThan(plain.includes(false) ? plain.indexOf(false) : 128);
          told += ways.length;
        }
        expect(told).toBe(reedActions(harp.layout, EVERYTHING).length);
      }),
    );
  });

  test("target cents stay when a harp is transposed, and a note's octaves agree", () => {
    const schemes = fc.constantFrom(...SCHEME_IDS).map((scheme): Temperament => ({ kind: "scheme", scheme }));
    fc.assert(
      fc.property(
        anyLayout,
        fc.constantFrom(...KEYS_BY_REGISTER),
        schemes,
        fc.integer({ min: 0, max: 11 }),
        (layout, key, temperament, home) => {
          const low = harpInKey(layout, "G");
          const other = harpInKey(layout, key);
          if (low === null || other === null) throw new Error("both are keys");
          const byName = new Map<number, number>();
          for (const { action, sounds } of reedActions(layout, EVERYTHING)) {
            const target = targetCents(withTemperament(low, temperament), action, home);
            expect(targetCents(withTemperament(other, temperament), action, home)).toBe(target);
            const name = ((sounds % 12) + 12) % 12;
            expect(target).toBeCloseTo(byName.get(name) ?? target, 9);
            byName.set(name, target);
          }
        },
      ),
    );
  });
});
