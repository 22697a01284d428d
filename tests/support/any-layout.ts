import fc from "fast-check";
import { type Harp, harpInKey, KEYS_BY_REGISTER } from "../../core/instrument/harp.ts";
import { type Hole, type Layout, reedsOf } from "../../core/instrument/layout.ts";
import { type Semitones, semitones } from "../../core/units.ts";

const reed: fc.Arbitrary<Semitones | null> = fc.oneof(
  { weight: 9, arbitrary: fc.integer({ min: -7, max: 43 }).map(semitones) },
  { weight: 1, arbitrary: fc.constant(null) },
);

const hole: fc.Arbitrary<Hole> = fc
  .tuple(reed, reed, fc.subarray(["blow", "draw"] as const))
  .map(([blow, draw, wish]) => {
    const valved = wish.filter((breath) => (breath === "blow" ? blow : draw) !== null);
    return valved.length === 0 ? { blow, draw } : { blow, draw, valved };
  });

/** Any layout of 1 to 16 holes, with lone, missing and valved reeds, unisons and wide gaps. */
export const anyLayout: fc.Arbitrary<Layout> = fc
  .record({
    holes: fc.array(hole, { minLength: 1, maxLength: 16 }),
    name: fc.constantFrom("my own", "kitchen table, third try", "D’s tuning"),
    positionKey: fc.integer({ min: 0, max: 11 }),
  })
  .filter(({ holes }) => holes.some((one) => one.blow !== null || one.draw !== null))
  .map(({ holes, name, positionKey }) => ({
    id: "my-own",
    name,
    holes,
    ...(positionKey === 0 ? {} : { positionKey: semitones(positionKey) }),
  }));

/** Any layout with at least one reed pair, in any key of the usual register. */
export const anyHarp: fc.Arbitrary<Harp> = fc
  .tuple(anyLayout, fc.constantFrom(...KEYS_BY_REGISTER))
  .map(([layout, key]) => inKey(layout, key));

/** A harp in a key that is known to be one. */
export function inKey(layout: Layout, key: string): Harp {
  const harp = harpInKey(layout, key);
  if (harp === null) throw new Error(`"${key}" is not a key`);
  return harp;
}

/** Pitch classes of a layout's reeds above the key note, ascending. */
export function scaleOf(layout: Layout): readonly number[] {
  const steps = reedsOf(layout).map((one) => ((one.sounds % 12) + 12) % 12);
  return [...new Set(steps)].sort((a, b) => a - b);
}
