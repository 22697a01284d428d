import { describe, expect, test } from "vitest";
import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import type { ReedTable } from "../../../core/progress/counts/reed-counts.ts";
import { sumsOf } from "../../../core/progress/counts/sums.ts";
import { pairPictures, reedPictures } from "../../../core/progress/spots/spot-pictures.ts";
import { weakSpotsOf } from "../../../core/progress/spots/weak-spots.ts";
import { alikeWithin, expectedShare } from "../../../core/progress/statistics/shrink.ts";
import { rowsOf, trendOf } from "../../support/progress-rows.ts";
import { counts, dayAt, fact } from "../../support/session-facts.ts";

/** One attempt a day with these reed actions. */
const days = (tables: readonly ReedTable[]) =>
  rowsOf(tables.map((reeds, day) => fact(day, { reeds, pairs: {} }))).reedDays;

const table = (troubled: Readonly<Record<string, number>>, asked = 10): ReedTable =>
  Object.fromEntries(Object.entries(troubled).map(([tab, wrong]) => [tab, counts(asked, wrong)]));

const STEADY = { "1": 1, "-1": 1, "2": 1, "-2": 1, "4": 0, "-4": 1, "5": 1, "-5": 0 };

describe("a share moved towards the usual", () => {
  test("stays at the usual where spots differ no more than by chance", () => {
    // [calc] ten notes at a usual of one half: chance alone is 2.5; differences of 1 and 2 squared are 1 and 4, together no more.
    const spots = [
      { asked: 10, troubled: 6, usualTroubled: 5 },
      { asked: 10, troubled: 3, usualTroubled: 5 },
    ];
    expect(alikeWithin(spots)).toBe(0);
    expect(expectedShare({ asked: 10, troubled: 10, usualTroubled: 5 }, 0)).toBe(0.5);
  });

  test("is the mean of a beta distribution after its notes", () => {
    // [calc] alike 1/5 is a beta of a + b = 4; usual 0.25: a = 1. After 6 of 8: (1 + 6) / (4 + 8) = 0.5833.
    expect(expectedShare({ asked: 8, troubled: 6, usualTroubled: 2 }, 0.2)).toBeCloseTo(7 / 12, 12);
  });

  test("finds how much spots differ from counts that differ by just so much", () => {
    // [calc] two spots of 10 at a usual of 1/2, (T - 5)² = 16 each: 2·(16 - 2.5) / (2·9·2.5) = 27/45.
    const spots = [
      { asked: 10, troubled: 9, usualTroubled: 5 },
      { asked: 10, troubled: 1, usualTroubled: 5 },
    ];
    expect(alikeWithin(spots)).toBeCloseTo(0.6, 12);
  });
});

describe("a weak spot", () => {
  test("is picked once the first attempts of two days show it, with the notes that rests on", () => {
    const { reeds, allReeds, pairs } = weakSpotsOf(
      days([table({ ...STEADY, "-3''": 6 }), table({ ...STEADY, "-3''": 7 })]),
    );
    expect(reeds.map(({ name }) => name)).toEqual(["-3''"]);
    const [spot] = reeds;
    expect(spot).toMatchObject({ asked: 20, troubled: 13, wrong: 13, pickedOn: dayAt(1), weak: true });
    // [calc] 6 of the first day's 90 notes are the others': (6 + 6)/90 and (6 + 7)/90, of ten notes each day
    expect(spot?.usual).toBeCloseTo((12 / 90 + 13 / 90) / 2, 12);
    expect(spot?.expected).toBeLessThan(13 / 20);
    expect(spot?.expected).toBeGreaterThan(0.4);
    // [calc] Wilson of 13 in 20: (26 + 3.8415 ± 1.96 √(3.8415 + 52·0.35)) / (2·23.8415) = 0.433 and 0.819
    expect(spot?.words).toBe("13 of 20 notes in trouble, 65 in 100 (43 to 82); the usual is 14 in 100.");
    expect(allReeds).toHaveLength(9);
    expect(pairs).toEqual([]);
  });

  test("is none after one bad morning, nor where only one of the last two shows it", () => {
    expect(weakSpotsOf(days([table({ ...STEADY, "-3''": 9 })])).reeds).toEqual([]);
    expect(
      weakSpotsOf(days([table({ ...STEADY, "-3''": 9 }), table({ ...STEADY, "-3''": 0 })])).reeds,
    ).toEqual([]);
  });

  test("is judged by first attempts: a later one of the same day shows nothing", () => {
    const one = fact(0, { hour: 9, reeds: table(STEADY) });
    const two = fact(0, { hour: 10, reeds: table({ ...STEADY, "-3''": 9 }) });
    const three = fact(1, { hour: 9, reeds: table({ ...STEADY, "-3''": 9 }) });
    expect(weakSpotsOf(rowsOf([one, two, three]).reedDays).reeds).toEqual([]);
  });

  test("that eases later is told from the days after it was picked, against the other notes", () => {
    const weak = Array.from({ length: 12 }, (_, day) => table({ ...STEADY, "-3''": 6 + (day % 3) }));
    const eased = Array.from({ length: 12 }, (_, day) => table({ ...STEADY, "-3''": 2 - (day % 3) }));
    const { reeds, noLonger } = weakSpotsOf(days([...weak, ...eased]));
    const [spot] = [...reeds, ...noLonger];
    expect(spot).toMatchObject({ name: "-3''", pickedOn: dayAt(1) });
    // The days it was picked by, the first two, are not among them.
    expect(spot?.since.points[0]?.day).toBe(dayAt(2));
    expect(spot?.since.verdict).toBe("better");
    expect(spot?.since.words).toMatch(
      /^Since 2026-01-06, first attempt of each day: .* less \(95 in 100\)\.$/,
    );
  });

  test("that all notes share is none, and a day that is bad for all moves nothing", () => {
    const bad = Object.fromEntries(Object.keys(STEADY).map((tab) => [tab, 5]));
    const { reeds, noLonger } = weakSpotsOf(
      days(Array.from({ length: 20 }, (_, day) => table(day < 10 ? bad : STEADY))),
    );
    expect([...reeds, ...noLonger].filter(({ since }) => since.verdict === "better")).toEqual([]);
  });

  test("picked as the worst of many by chance alone is not said to have eased: of 60 players at most 7", () => {
    // [calc] at five in a hundred, more than 7 of 60 has probability 0.01. A bare comparison says so of nearly all.
    let [told, bare] = [0, 0];
    for (let player = 0; player < 60; player++) {
      const random = seededRandom(1000 + player);
      const trouble = () => Array.from({ length: 8 }, () => random()).filter((at) => at < 0.25).length;
      const tabs = ["1", "-1", "2", "-2", "3", "-3", "4", "-4", "5", "-5", "6", "-6"];
      const played = Array.from({ length: 20 }, () =>
        table(Object.fromEntries(tabs.map((tab) => [tab, trouble()])), 8),
      );
      const worst =
        tabs.toSorted((a, b) => (played[0]?.[b]?.wrong ?? 0) - (played[0]?.[a]?.wrong ?? 0))[0] ?? "";
      if ((played.at(-1)?.[worst]?.wrong ?? 0) < (played[0]?.[worst]?.wrong ?? 0)) bare += 1;
      const { reeds, noLonger } = weakSpotsOf(days(played));
      if (
        [...reeds, ...noLonger].some(({ since }) => since.verdict === "better" || since.verdict === "worse")
      )
        told += 1;
    }
    expect(told).toBeLessThanOrEqual(7);
    expect(bare).toBeGreaterThan(45);
  });
});

describe("one reed action or pair", () => {
  test("has trends of its own", () => {
    const played = Array.from({ length: 16 }, (_, day) =>
      fact(day, {
        reeds: {
          "4": counts(10),
          "-4": counts(20, 10 - Math.floor(day / 2), { cents: sumsOf([5, -5, 5, -5, 0]) }),
        },
        pairs: { "4 > -4": counts(10, 5 - (day % 3)) },
      }),
    );
    const harp = played[0]?.like.harp ?? "";
    const { day, compared } = trendOf(played, "notes right", { kind: "reed", harp, name: "-4" });
    expect(day.verdict).toBe("better");
    // [calc] 10 of 20 right at first, 17 at last; the steps of two days put the line within 3 in 100.
    expect(Math.abs((day.change?.from ?? 0) - 0.5)).toBeLessThan(0.03);
    expect(Math.abs((day.change?.to ?? 0) - 0.85)).toBeLessThan(0.03);
    expect(compared).toBe("One exercise on the same harp, in the same way, tempo and delay.");
    expect(trendOf(played, "notes right", { kind: "pair", harp, name: "4 > -4" }).day.verdict).toBe(
      "no clear change",
    );
  });

  test("has its field in the pictures of harp and pairs", () => {
    const rows = days([table({ "4": 2 }), table({ "4": 3 })]);
    const [reed] = reedPictures(rows);
    // [calc] 15 of 20 right
    expect(reed).toMatchObject({ name: "4", asked: 20, right: { share: 0.75 }, cents: null, ms: null });
    const pairs = rowsOf([fact(0, { pairs: { "4 > -4": counts(8, 2, { troubled: 3 }) } })]).reedDays;
    expect(pairPictures(pairs)).toMatchObject([
      { from: "4", to: "-4", asked: 8, troubled: { share: 3 / 8 }, right: { share: 6 / 8 } },
    ]);
  });
});
