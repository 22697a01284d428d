import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { makeDrill } from "../../../core/exercise/make-drill.ts";
import { readTab } from "../../../core/instrument/tab.ts";
import { itemOf } from "../../../core/progress/counts/likeness.ts";
import { planDay, seedOfDay } from "../../../core/progress/plan/plan.ts";
import { lengthened, swapped } from "../../../core/progress/plan/plan-changes.ts";
import { planPairs } from "../../../core/progress/plan/plan-pairs.ts";
import { LONGEST_RUN_MINUTES } from "../../../core/progress/plan/plan-rests.ts";
import {
  lineName,
  type Plan,
  type PlanInput,
  type PlanLine,
  type PlanPart,
  type PlanTune,
  planInWords,
  plannedMinutes,
} from "../../../core/progress/plan/plan-shape.ts";
import { daysAfter, type PracticeDay } from "../../../core/progress/practice-day.ts";
import type { Wish } from "../../../core/progress/revisit/revisit.ts";
import { itemRowOf } from "../../../core/progress/revisit/revisit.ts";
import { drill } from "../../support/drills.ts";
import { harp } from "../../support/harps.ts";
import { itemDay, itemRow, noon } from "../../support/item-days.ts";

const TODAY = "2026-11-28" as PracticeDay;
const { kind: _, ...drills } = { ...drill(), kind: null };

const tune = (tuneId: string, status: PlanTune["status"], changes: Partial<PlanTune> = {}): PlanTune => ({
  tuneId,
  title: `Tune ${tuneId}`,
  status,
  lastDay: "2026-11-20" as PracticeDay,
  next: status === "at tempo" ? null : { id: "phrase 0-960 at 60 %", words: "A 1–4" },
  whole: status === "at tempo" ? { id: "whole tune 0-7680 at 100 %", words: "whole tune" } : null,
  ...changes,
});

const action = (text: string) => {
  const read = readTab(text);
  if (read === null) throw new Error(`${text} is no tab`);
  return read;
};
const pair = (first: string, second: string) => ({
  harp: harp("G"),
  first: action(first),
  second: action(second),
  why: `${first} > ${second}: 14 of 60 in trouble`,
});

const NOTHING: PlanInput = {
  minutes: 30,
  day: TODAY,
  seed: seedOfDay(TODAY),
  items: [],
  wishes: [],
  weakPairs: [],
  tunes: [],
  drills,
  known: "mixed",
};
const FULL: PlanInput = {
  ...NOTHING,
  items: ["a", "b", "c", "d", "e"].map((item, n) =>
    itemRow(item, daysAfter("2026-11-01" as PracticeDay, 3 * n)),
  ),
  weakPairs: [pair("4", "-4"), pair("5", "-5"), pair("6", "-6")],
  tunes: [tune("x", "learning"), tune("y", "at tempo")],
};

const played = (plan: Plan) => plan.lines.flatMap((line) => (line.kind === "rest" ? [] : [line]));
const partsOf = (plan: Plan): readonly PlanPart[] => played(plan).flatMap(({ parts }) => parts);
const kinds = (plan: Plan) => plan.lines.map(({ kind }) => kind);

/** Minutes of each run of playing between rests. */
function runs(lines: readonly PlanLine[]): readonly number[] {
  const sums = [0];
  for (const { kind, minutes } of lines)
    if (kind === "rest") sums.push(0);
    else sums.push((sums.pop() ?? 0) + minutes);
  return sums;
}

const anyItem = fc
  .record({
    name: fc.constantFrom(..."abcdefghijklmnopqrstuvwxyz"),
    days: fc.uniqueArray(fc.integer({ min: 0, max: 300 }), { minLength: 1, maxLength: 6 }),
    hit: fc.integer({ min: 0, max: 15 }),
  })
  .map(({ name, days, hit }) =>
    itemRowOf(days.map((day) => itemDay(daysAfter(TODAY, -day), [hit, 15], { item: name }))),
  );
const anyWish: fc.Arbitrary<Wish> = fc
  .record({
    item: fc.constantFrom(..."abcdefghijklmnopqrstuvwxyz"),
    kind: fc.constantFrom("suspended" as const, "taken back" as const, "moved" as const),
    wishedAtEpochMs: fc.integer({ min: 0, max: noon("2026-11-28") }),
    to: fc.integer({ min: -20, max: 20 }),
  })
  .map(({ kind, to, ...of }) =>
    kind === "moved" ? { ...of, kind, toDay: daysAfter(TODAY, to) } : { ...of, kind },
  );
const anyTune = fc
  .record({
    tuneId: fc.constantFrom("x", "y", "z", "v", "w"),
    status: fc.constantFrom("new" as const, "learning" as const, "at tempo" as const, "resting" as const),
  })
  .map(({ tuneId, status }) => tune(tuneId, status));
const anyInput: fc.Arbitrary<PlanInput> = fc.record({
  minutes: fc.integer({ min: 5, max: 120 }),
  day: fc.constant(TODAY),
  seed: fc.nat(),
  items: fc.uniqueArray(anyItem, { maxLength: 20, selector: ({ item }) => item }),
  wishes: fc.array(anyWish, { maxLength: 10 }),
  weakPairs: fc.subarray([pair("4", "-4"), pair("5", "-5"), pair("6", "-6")]),
  tunes: fc.uniqueArray(anyTune, { maxLength: 5, selector: ({ tuneId }) => tuneId }),
  drills: fc.constantFrom("G", "A", "D").map((key) => ({ ...drills, harp: harp(key) })),
  known: fc.constantFrom("mixed" as const, "blocked" as const),
});

describe("any plan", () => {
  test("takes the minutes asked for, to the minute and never more", () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const minutes = plannedMinutes(planDay(input));
        expect(minutes).toBeLessThanOrEqual(input.minutes);
        expect(minutes).toBeGreaterThanOrEqual(input.minutes - 1);
      }),
      { numRuns: 200 },
    );
  });

  test("is the same for the same history and seed", () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const again = { ...input, items: [...input.items].reverse(), tunes: [...input.tunes].reverse() };
        expect(planDay(again)).toEqual(planDay(input));
      }),
      { numRuns: 100 },
    );
  });

  test("holds nothing suspended, nothing twice, and something on every line", () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const plan = planDay(input);
        const items = partsOf(plan).map(({ item }) => item);
        expect(new Set(items).size).toBe(items.length);
        const latest = new Map(
          [...input.wishes]
            .sort((a, b) => a.wishedAtEpochMs - b.wishedAtEpochMs)
            .map((one) => [one.item, one]),
        );
        expect(items.filter((item) => latest.get(item)?.kind === "suspended")).toEqual([]);
        expect(played(plan).filter(({ parts }) => parts.length === 0)).toEqual([]);
        expect(new Set(plan.lines.map(lineName)).size).toBe(plan.lines.length);
      }),
      { numRuns: 200 },
    );
  });

  test("asks for nothing on a day before the one the player moved it to, unless to warm up", () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const isMovedOn = (item: string) => {
          const wishes = input.wishes.filter((one) => one.item === item);
          const latest = Math.max(...wishes.map((one) => one.wishedAtEpochMs));
          const wish = wishes.findLast((one) => one.wishedAtEpochMs === latest);
          const row = input.items.find((one) => one.item === item);
          return (
            wish?.kind === "moved" &&
            wish.toDay > input.day &&
            row !== undefined &&
            latest >= row.last.atEpochMs
          );
        };
        const asked = played(planDay(input)).filter(({ kind }) => kind !== "warm-up");
        expect(asked.flatMap(({ parts }) => parts.map(({ item }) => item)).filter(isMovedOn)).toEqual([]);
      }),
      { numRuns: 200 },
    );
    const early = { ...NOTHING, minutes: 60, items: [itemRow("a", daysAfter(TODAY, -1))] };
    const line = played(planDay(early)).find(({ parts }) => parts.some(({ item }) => item === "a"));
    expect(line?.kind).toBe("early");
    const moved = {
      item: "a",
      kind: "moved" as const,
      wishedAtEpochMs: noon(TODAY),
      toDay: daysAfter(TODAY, 7),
    };
    expect(partsOf(planDay({ ...early, wishes: [moved] })).filter(({ item }) => item === "a")).toEqual([]);
  });

  test("has a rest wherever a quarter of an hour would be played on, between lines and two minutes long", () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const { lines } = planDay(input);
        // [P] a rest after every 10 to 15 minutes
        expect(Math.max(...runs(lines))).toBeLessThanOrEqual(LONGEST_RUN_MINUTES);
        expect(lines[0]?.kind).not.toBe("rest");
        expect(lines.at(-1)?.kind).not.toBe("rest");
        expect(lines.filter(({ kind, minutes }) => kind === "rest" && minutes !== 2)).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });

  test("mixes what is known only where that is wanted, and never what is new", () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        for (const { kind, turns } of played(planDay(input)))
          expect(turns).toBe(kind === "new" ? "blocked" : input.known);
      }),
      { numRuns: 50 },
    );
  });

  test("every drill in it can be made on the player's harp, and is the item it is called", () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        for (const { recipe, item } of partsOf(planDay(input))) {
          if (recipe.kind !== "drill") continue;
          const made = makeDrill(recipe.spec);
          expect(made.kind).toBe("exercise");
          if (made.kind === "exercise") expect(itemOf(made.exercise)).toBe(item);
        }
      }),
      { numRuns: 50 },
    );
  });
});

describe("the plan of a day", () => {
  test("of half an hour warms up, then what is due, the weakest pairs, something new and a whole tune, with a rest", () => {
    const plan = planDay(FULL);
    expect(kinds(plan).filter((kind) => kind !== "rest")).toEqual([
      "warm-up",
      "due",
      "weak pair",
      "new",
      "whole tune",
    ]);
    expect(kinds(plan)).toContain("rest");
    expect(plannedMinutes(plan)).toBe(30);
    expect(planInWords(plan)).toBe("28 minutes of playing, 2 of rest");
  });

  test("has the most overdue first, with the reason", () => {
    const due = played(planDay(FULL)).find(({ kind }) => kind === "due");
    // [calc] practised on 1, 4 and 7 November once each, due two days later
    expect(due?.parts.map(({ item }) => item)).toEqual(["a", "b", "c"]);
    expect(due?.parts[0]?.why).toBe("last on 1 November, first try 15 of 15; 27 days since");
    expect(due?.parts[0]?.recipe).toEqual({ kind: "attempt", id: "a 2026-11-01 last" });
  });

  test("has the two weakest pairs as breath drills, faster from round to round", () => {
    const weak = played(planDay(FULL)).find(({ kind }) => kind === "weak pair");
    // [calc] on a G harp hole 4 blow is the G an octave above its first reed, G3; fourth and fifth hole as in the layout table
    expect(weak?.parts.map(({ title }) => title)).toEqual([
      "4 blow (G4) and 4 draw (A4), 1, 2, 4 to the beat",
      "5 blow (B4) and 5 draw (C5), 1, 2, 4 to the beat",
    ]);
  });

  test("has the weakest pairs of several harps, what costs most first, each on its own harp", () => {
    const spot = (name: string, costPer100: number) => ({ name, costPer100, words: `${name} costs.` });
    const weakPairs = planPairs([
      { harp: harp("G"), pairs: [spot("4 > -4", 3), spot("no tab", 9)] },
      { harp: harp("D"), pairs: [spot("5 > -5", 5), spot("6 > -6", 1)] },
    ]);
    expect(weakPairs.map(({ harp: on, why }) => [on.key, why])).toEqual([
      ["D", "5 > -5 costs"],
      ["G", "4 > -4 costs"],
      ["D", "6 > -6 costs"],
    ]);
    const weak = played(planDay({ ...FULL, weakPairs })).find(({ kind }) => kind === "weak pair");
    expect(weak?.parts.map((part) => part.harp)).toEqual(["D harp", "G harp"]);
  });

  test("has a tune that nobody began for its new thing once no other tune is being learned", () => {
    const begun = tune("n", "new", { lastDay: null });
    // [calc] the seed decides whether tune or drill comes first: of many days both.
    const firsts = (tunes: readonly PlanTune[]) =>
      Array.from({ length: 12 }, (_, seed) => {
        const plan = planDay({ ...FULL, tunes, seed, minutes: 30 });
        return played(plan).find(({ kind }) => kind === "new")?.parts[0];
      });
    const steps = firsts([begun]).filter((part) => part?.recipe.kind === "tune");
    expect(steps.length).toBeGreaterThan(3);
    expect(steps.length).toBeLessThan(12);
    expect(steps[0]).toMatchObject({
      title: "Tune n, A 1–4",
      why: "the first rung of a tune not begun, at 60 % of the dance tempo",
    });
    const recipes = firsts([tune("x", "learning"), begun]).flatMap((part) => part?.recipe ?? []);
    expect(recipes.filter((recipe) => recipe.kind === "tune" && recipe.tuneId === "n")).toEqual([]);
  });

  test("keeps what matters most where there is little time", () => {
    expect(kinds(planDay({ ...FULL, minutes: 5 }))).toEqual(["warm-up", "due"]);
    expect(kinds(planDay({ ...FULL, minutes: 8 }))).toEqual(["warm-up", "due", "weak pair"]);
    expect(kinds(planDay({ ...FULL, minutes: 10 }))).toEqual(["warm-up", "due", "weak pair", "new"]);
  });

  test("of a new player warms up and tries drills on the harp in hand, the plainest first", () => {
    const plan = planDay(NOTHING);
    expect(plan.lines[0]).toMatchObject({ kind: "warm-up", number: 1 });
    expect(new Set(kinds(plan))).toEqual(new Set(["warm-up", "new", "rest"]));
    const [first, second] = played(plan).filter(({ kind }) => kind === "new");
    expect(first?.parts[0]?.recipe).toMatchObject({
      kind: "drill",
      spec: { kind: "scale", harp: { key: "G" } },
    });
    expect(second?.parts[0]?.recipe).toMatchObject({ kind: "drill", spec: { kind: "arpeggio" } });
  });

  test("lets a part that stands on a more particular line be nowhere else, and nobody lose minutes by it", () => {
    const whole = itemRowOf([
      itemDay("2026-11-01", [15, 15], {
        item: "tune y 0-7680",
        what: { tuneId: "y", rung: "whole tune 0-7680 at 100 %" },
      }),
    ]);
    const plan = planDay({ ...FULL, items: [whole] });
    expect(partsOf(plan).filter(({ item }) => item === whole.item)).toHaveLength(1);
    expect(kinds(plan)).not.toContain("due");
    expect(plannedMinutes(plan)).toBe(30);
    // With too little time for the whole tune it is due as any other.
    expect(kinds(planDay({ ...FULL, items: [whole], minutes: 5 }))).toEqual(["warm-up", "due"]);
  });

  test("asks for nothing that was played today, and fills up with what is not due yet before new things", () => {
    const today = itemRow("today", "2026-11-20", TODAY);
    const later = itemRow("later", "2026-11-01", "2026-11-05", "2026-11-27");
    const plan = planDay({ ...NOTHING, items: [today, later], minutes: 60 });
    const items = partsOf(plan).map(({ item }) => item);
    expect(items).not.toContain("today");
    expect(items).toContain("later");
    expect(partsOf(plan).find(({ item }) => item === "later")?.why).toMatch(/; due on \d+ \w+( 2027)?$/);
  });

  test("does not ask for the same once as played and once as made up", () => {
    const warmUp = partsOf(planDay({ ...NOTHING, minutes: 5 }))[0]?.item ?? "";
    const demo = (item: string, on: string) =>
      itemRowOf([itemDay(on, [15, 15], { item: `demonstration ${item}`, what: { demo: true } })]);
    const items = [demo(warmUp, "2026-11-01"), demo("a", "2026-11-02"), itemRow("a", "2026-11-03")];
    const asked = partsOf(planDay({ ...NOTHING, items })).map(({ item }) => item);
    expect(asked).toContain("a");
    expect(asked.filter((item) => item.startsWith("demonstration"))).toEqual([]);
    // Alone it is asked for, as what it is.
    const alone = partsOf(planDay({ ...NOTHING, items: [demo("b", "2026-11-02")] }));
    expect(alone.find(({ item }) => item === "demonstration b")?.why).toContain("(made up)");
  });

  test("takes whole minutes from five to a hundred and twenty", () => {
    for (const minutes of [4, 121, 7.5, Number.NaN])
      expect(() => planDay({ ...NOTHING, minutes })).toThrow(RangeError);
  });
});

describe("a line of it", () => {
  const plan = planDay(FULL);

  test("is made longer by two minutes, as far as a quarter of an hour", () => {
    const longer = lengthened(plan, "due 1");
    expect(plannedMinutes(longer)).toBe(plannedMinutes(plan) + 2);
    const longest = Array.from({ length: 9 }).reduce<Plan>((one) => lengthened(one, "due 1"), plan);
    expect(longest.lines.find((line) => lineName(line) === "due 1")?.minutes).toBe(15);
  });

  test("is swapped for others of its kind that are nowhere in the plan, as long as there are any", () => {
    const once = swapped(plan, "due 1", FULL, new Set());
    const parts = (one: Plan | null) =>
      played(one ?? plan)
        .find((line) => lineName(line) === "due 1")
        ?.parts.map(({ item }) => item);
    expect(parts(once)).toEqual(["d", "e"]);
    expect(swapped(plan, "due 1", FULL, new Set(["d", "e"]))).toBeNull();
    const other = swapped(plan, "new 1", FULL, new Set());
    const items = partsOf(other ?? plan).map(({ item }) => item);
    expect(new Set(items).size).toBe(items.length);
    expect(swapped(plan, "rest 1", FULL, new Set())).toBeNull();
  });

  test("to warm up with is swapped for other long tones, until there are no others on that harp", () => {
    const left = new Set<string>();
    const specs = [];
    for (let now: Plan | null = plan; now !== null; ) {
      const [part] = played(now).find(({ kind }) => kind === "warm-up")?.parts ?? [];
      if (part?.recipe.kind !== "drill") throw new Error("long tones are a drill");
      expect(left.has(part.item)).toBe(false);
      left.add(part.item);
      specs.push(part.recipe.spec);
      now = swapped(now, "warm-up 1", FULL, left);
    }
    expect(specs.length).toBeGreaterThan(1);
    for (const spec of specs) {
      expect(spec).toMatchObject({ kind: "long-tones", toneBeats: 4, restBeats: 4 });
      expect(makeDrill(spec).kind).toBe("exercise");
    }
  });
});
