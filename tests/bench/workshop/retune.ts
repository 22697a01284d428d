import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { type Harp, harpInKey, KEYS_BY_REGISTER } from "../../../core/instrument/harp.ts";
import { layoutFromRows } from "../../../core/instrument/layout.ts";
import { stockLayout } from "../../../core/instrument/stock-layouts.ts";
import { cents } from "../../../core/units.ts";
import { harpsForSet, MEASURES } from "../../../core/workshop/retune/harps-for-set.ts";
import { USUAL_LIMITS } from "../../../core/workshop/retune/reed-work.ts";
import { retuningPlan, STOCK_HARPS, USUAL_RULES } from "../../../core/workshop/retune/retuning-plan.ts";
import { stockToBuy } from "../../../core/workshop/retune/stock-to-buy.ts";
import { bestByTrying, unbeatenPairs } from "../../support/retuning-truth.ts";
import type { BenchSection } from "./section.ts";

const SEED = 20261128;
const random = seededRandom(SEED);
const whole = (low: number, high: number) => low + Math.floor(random() * (high - low + 1));
const keyOfChance = () => KEYS_BY_REGISTER[whole(0, 11)] ?? "C";
const row = (length: number, low: number, high: number) => Array.from({ length }, () => whole(low, high));

function harpOf(layout: ReturnType<typeof layoutFromRows>, key: string): Harp {
  const harp = harpInKey(layout, key);
  if (harp === null) throw new Error(`${key} is no key`);
  return harp;
}

const madeUp = (holes: number) =>
  layoutFromRows("made-up", "made up", { blow: row(holes, -5, 38), draw: row(holes, -5, 38) });

/** How often the harps to buy are those that holding each against each finds. */
function bought(): string {
  const COUNT = 300;
  let equal = 0;
  for (let n = 0; n < COUNT; n++) {
    const wanted = harpOf(madeUp(10), keyOfChance());
    const found = stockToBuy(wanted, STOCK_HARPS, USUAL_LIMITS).tradeOff;
    const pairs = found.map(({ totalCents, largestCents }) => `${totalCents} ${largestCents}`).sort();
    if (pairs.join() === unbeatenPairs(STOCK_HARPS, wanted).join()) equal++;
  }
  return `which harp to buy: ${equal} of ${COUNT} made-up layouts as holding each of ${STOCK_HARPS.length} harps against each finds`;
}

/** How often a set is made of own harps as trying all ways finds. */
function sets(): string {
  const COUNT = 600;
  let equal = 0;
  const lone = (note: number) => harpOf(layoutFromRows("one", "one", { blow: [note], draw: [null] }), "C");
  for (let n = 0; n < COUNT; n++) {
    const [wanted, owned] = [row(whole(1, 5), 0, 7), row(whole(1, 5), 0, 7)];
    const by = MEASURES[n % 2] ?? "total";
    const plan = harpsForSet(wanted.map(lone), owned.map(lone), [], USUAL_LIMITS, by);
    const best = bestByTrying(wanted, owned, by);
    const isSame = plan.sources.length === best.used && plan.totalCents === best.total;
    if (isSame && (by === "total" || plan.largestCents === best.largest)) equal++;
  }
  return `whole sets: ${equal} of ${COUNT} as trying all ways finds`;
}

/** Whether plans bring every reed to its goal and never beyond it on the way. */
function plans(): string {
  const COUNT = 500;
  let [steps, right, swaps, wrongSwaps] = [0, 0, 0, 0];
  for (let n = 0; n < COUNT; n++) {
    const from = harpOf(madeUp(10), keyOfChance());
    const moved = {
      ...from.layout,
      holes: from.layout.holes.map(({ blow, draw }) => ({
        blow: blow === null ? null : ((blow + whole(-2, 3)) as typeof blow),
        draw: draw === null ? null : ((draw + whole(-2, 3)) as typeof draw),
      })),
    };
    const reedOffsets = from.layout.holes.map(() => ({
      blow: cents(whole(-85, 40)),
      draw: cents(whole(-85, 40)),
    }));
    const made = retuningPlan({ ...from, reedOffsets }, { ...from, layout: moved }, USUAL_RULES);
    if (made.kind !== "plan") throw new Error(made.reason);
    for (const { change, work } of made.plan.reeds) {
      // [calc] whole semitones less what the reed was off; beyond two of them and twenty cents it is too far.
      const { hole, breath, noteNow, noteWanted } = change;
      const off = reedOffsets[hole - 1]?.[breath] ?? 0;
      const past = Math.abs(100 * (noteWanted - noteNow) - off) > 220;
      if (work.kind === "swap") swaps++;
      if ((work.kind === "swap") !== past) wrongSwaps++;
    }
    for (const { change, work } of made.plan.reeds) {
      if (work.kind !== "raise" && work.kind !== "lower") continue;
      let before = change.nowHz;
      for (const pass of made.plan.passes) {
        const step = pass.steps.find(({ hole, breath }) => hole === change.hole && breath === change.breath);
        if (step === undefined) continue;
        const [low, high] = work.kind === "raise" ? [before, change.wantedHz] : [change.wantedHz, before];
        steps++;
        if (step.aimHz >= low - 1e-9 && step.aimHz <= high + 1e-9) right++;
        before = step.aimHz;
      }
    }
  }
  return `plans: ${right} of ${steps} steps of ${COUNT} plans lie between the step before and the goal; ${swaps} reeds past the limit, ${wrongSwaps} told wrongly`;
}

function speed(): string {
  const raised = stockLayout("raised-third-blow");
  if (raised === null) throw new Error("there is no such layout");
  const wanted = KEYS_BY_REGISTER.map((key) => harpOf(raised, key));
  const owned = KEYS_BY_REGISTER.map((key) => harpOf(stockLayout("standard") ?? raised, key));
  const ms = (work: () => unknown) => {
    const started = performance.now();
    work();
    return Math.round(performance.now() - started);
  };
  const one = ms(() => wanted.slice(0, 1).map((harp) => stockToBuy(harp, STOCK_HARPS, USUAL_LIMITS)));
  const set = ms(() => harpsForSet(wanted, owned, STOCK_HARPS, USUAL_LIMITS, "largest"));
  const bare = ms(() => harpsForSet(wanted, [], STOCK_HARPS, USUAL_LIMITS, "total"));
  return `time: one wanted harp among ${STOCK_HARPS.length} ${one} ms; twelve keys, all bought ${bare} ms, twelve own harps given out ${set} ms`;
}

/** The retuning plan: what it says held against the long way round. */
export const RETUNE: BenchSection = {
  name: "retune",
  run: () => [bought(), sets(), plans(), speed(), `seed ${SEED}`],
};
