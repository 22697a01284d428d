import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { USUAL_RULE } from "../../../core/exercise/tune-ladder.ts";
import { planTune } from "../../../core/exercise/tune-plan.ts";
import {
  actionsForNote,
  EVERYTHING,
  PLAIN_AND_BENDS,
  PLAIN_ONLY,
  sameAction,
} from "../../../core/instrument/reed-actions.ts";
import { breathBalance } from "../../../core/path/breath-balance.ts";
import { breathPath } from "../../../core/path/breath-path.ts";
import { pathCost } from "../../../core/path/cost.ts";
import { difficultSpots } from "../../../core/path/difficult-spots.ts";
import { airCost, evenedPath } from "../../../core/path/evened-path.ts";
import {
  FIRST_WEIGHTS,
  LARGEST_WEIGHT,
  readWeights,
  WEIGHT_NAMES,
  type Weights,
} from "../../../core/path/weights.ts";
import { anyHarp } from "../../support/any-layout.ts";
import { harp } from "../../support/harps.ts";
import { readTune } from "../../support/tune-drills.ts";
import { anyLine, everyPath } from "./lines.ts";

/** Weights of nothing, of everything, and between, all of which a player may set. */
const extremeWeights: fc.Arbitrary<Weights> = fc
  .array(fc.constantFrom(0, 0, 0.25, 1, LARGEST_WEIGHT), {
    minLength: WEIGHT_NAMES.length,
    maxLength: WEIGHT_NAMES.length,
  })
  .map((values) => {
    const all = Object.fromEntries(WEIGHT_NAMES.map((name, place) => [name, values[place] ?? 0]));
    const [least = 0.01, most = 1] = [all.leastHurry ?? 0, all.mostHurry ?? 0]
      .map((value) => Math.max(0.01, value))
      .sort((one, other) => one - other);
    const comfortableSeconds = Math.max(0.01, all.comfortableSeconds ?? 0);
    return { ...FIRST_WEIGHTS, ...all, comfortableSeconds, leastHurry: least, mostHurry: most };
  });

const holes = fc.subarray([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12]);
const abilities = fc.oneof(
  fc.constantFrom(PLAIN_ONLY, PLAIN_AND_BENDS, EVERYTHING),
  fc.record({ bends: holes, overbends: holes }),
);
const anyProblem = fc
  .tuple(anyHarp, abilities, extremeWeights)
  .chain(([on, able, weights]) =>
    anyLine(on, 8).map((line) => ({ on, line, options: { abilities: able, weights } })),
  );
const anyPins = fc.array(fc.tuple(fc.nat(), fc.nat()), { maxLength: 3 });

describe("weights of nothing and of everything, some holes only, and several pins", () => {
  test("leave the path and the evened path as cheap as any way to play that keeps the pins", () => {
    let pinned = 0;
    fc.assert(
      fc.property(anyProblem, anyPins, ({ on, line, options }, wishes) => {
        expect(readWeights(options.weights).kind).toBe("weights");
        const pins = wishes.flatMap(([which, way]) => {
          const note = which % line.length;
          const pitch = line[note]?.midi;
          const able = pitch === undefined ? [] : actionsForNote(on, pitch, options.abilities);
          const action = able[way % Math.max(1, able.length)];
          return action === undefined ? [] : [{ note, action }];
        });
        const kept = new Map(pins.map((pin) => [line[pin.note]?.choice, pin.action]));
        const ways = everyPath(line, on, options.abilities).filter((path) =>
          path.every((action, place) => {
            const pin = kept.get(line[place]?.choice);
            return pin === undefined || action === null || sameAction(action, pin);
          }),
        );
        fc.pre(ways.length <= 1000);
        pinned += pins.length;
        const { weights } = options;
        const path = breathPath(line, on, { ...options, pins });
        const even = evenedPath(line, on, { ...options, pins });
        const total = (actions: (typeof ways)[number]) =>
          pathCost(line, actions, weights) + airCost(line, actions, weights, even.gridSeconds);
        const cheapest = Math.min(...ways.map((one) => pathCost(line, one, weights)));
        const evenest = Math.min(...ways.map(total));
        // Sums reach hundreds of thousands: as near as their rounding.
        expect(Math.abs(path.cost - cheapest)).toBeLessThanOrEqual(1e-9 * (1 + cheapest));
        expect(Math.abs(even.cost + even.airCost - evenest)).toBeLessThanOrEqual(1e-9 * (1 + evenest));
        for (const { actions } of [path, even]) {
          for (const [place, note] of line.entries()) {
            const pin = kept.get(note.choice);
            if (pin !== undefined) expect(actions[place]).toEqual(pin);
          }
          const said = [
            ...difficultSpots(line, actions, weights),
            ...breathBalance(line, actions, weights).troubles,
          ];
          for (const { words } of said) expect(words).not.toMatch(/NaN|Infinity|undefined/);
        }
      }),
      { numRuns: 300 },
    );
    expect(pinned).toBeGreaterThan(50);
  });
});

const HEAD = "X:1\nT:ours\nM:4/4\nL:1/8\nR:reel\nK:D\n";
const chance = (seed: number) => () => {
  seed = (seed * 1_103_515_245 + 12_345) % 2 ** 31;
  return seed / 2 ** 31;
};

function manyNotes(): string {
  const random = chance(7);
  const names = [..."DEFGABcdefga"];
  const bar = () => Array.from({ length: 8 }, () => names[Math.floor(random() * names.length)]).join("");
  return Array.from({ length: 250 }, bar).join("|");
}

describe("tunes at the edge", () => {
  const plan = (music: string, even: boolean) => {
    const tune = readTune(`${HEAD}${music}|`);
    return planTune({
      tune,
      harps: [harp("D")],
      abilities: EVERYTHING,
      weights: FIRST_WEIGHTS,
      tempo: tune.tempo,
      octaves: 0,
      pins: [],
      even,
      phraseBars: 4,
      phrases: null,
      rule: USUAL_RULE,
    });
  };

  test.each([false, true])("are answered: one note, far below, far above, chromatic (evened: %s)", (even) => {
    expect(plan("D8", even).path.actions.length).toBe(1);
    for (const outside of ["D,,2E,,2F,,2G,,2", "d'''2e'''2f'''2g'''2"]) {
      const { path, spots, balance } = plan(outside, even);
      expect([path.missing.length, path.cost, spots.length]).toEqual([4, 0, 0]);
      expect(path.betterShifts.length).toBeGreaterThan(0);
      expect([balance.blowSeconds, balance.drawSeconds]).toEqual([0, 0]);
    }
    // [calc] with every bend and overblow the standard harp has all twelve notes of its middle octave.
    expect(plan("d^de=f ^fg^ga|^ab=c'^c' d'4", even).path.missing).toEqual([]);
  });

  test.each([false, true])("of two thousand notes are laid out and proved (evened: %s)", (even) => {
    const { path } = plan(manyNotes(), even);
    expect(path.actions.length).toBe(2000);
    expect(path.proved).toBe(true);
  });
});
