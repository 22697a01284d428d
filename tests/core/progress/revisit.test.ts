import fc from "fast-check";
import { createEmptyCard, fsrs, Rating } from "ts-fsrs";
import { describe, expect, test } from "vitest";
import { daysAfter, daysFromTo, type PracticeDay } from "../../../core/progress/practice-day.ts";
import {
  itemRowOf,
  LAPSE_SPREAD_MS,
  LONGEST_AWAY_DAYS,
  verdictOf,
  type Wish,
} from "../../../core/progress/revisit/revisit.ts";
import { dueItems, suspendedItems } from "../../../core/progress/revisit/revisit-due.ts";
import { itemDay, itemRow, noon } from "../../support/item-days.ts";

const day = (text: string) => text as PracticeDay;

describe("a lapse", () => {
  test("is the first attempt of a day with fewer than eight notes in ten right", () => {
    // [P] 80 to 90 per cent are aimed at (fact sheet, section 7). [calc] 12/15 = 0.8, 11/15 = 0.73.
    expect(verdictOf(itemDay("2026-11-03", [12, 15]).first)).toBe("held");
    expect(verdictOf(itemDay("2026-11-03", [11, 15]).first)).toBe("lapsed");
  });

  test("is one too where the onsets spread more than the ladder allows, whatever the notes", () => {
    // [P] 40 ms: `USUAL_RULE` of a tune's ladder.
    expect(LAPSE_SPREAD_MS).toBe(40);
    expect(verdictOf(itemDay("2026-11-03", [15, 15], { spreadMs: 40 }).first)).toBe("held");
    expect(verdictOf(itemDay("2026-11-03", [15, 15], { spreadMs: 41 }).first)).toBe("lapsed");
  });

  test("is none where nothing could be judged: such a day moves no date", () => {
    const judged = itemDay("2026-11-03");
    const silent = itemDay("2026-11-04", [0, 0]);
    expect(verdictOf(silent.first)).toBe("unjudged");
    expect(itemRowOf([judged, silent])).toMatchObject({
      dueDay: itemRowOf([judged]).dueDay,
      lastDay: "2026-11-04",
      lapses: 0,
    });
    expect(itemRowOf([silent]).dueDay).toBe("2026-11-05");
  });
});

describe("the day to come back", () => {
  test("is two days off after a first day that held, the next one after a lapse", () => {
    // [X] ts-fsrs 5.4.2, default_w: first stability w[2] = 2.3065 for "good" and w[0] = 0.212 for "again";
    // [calc] rounded, and one day at least: 2 and 1.
    expect(itemRow("scale", "2026-11-03").dueDay).toBe("2026-11-05");
    expect(itemRowOf([itemDay("2026-11-03", [5, 15])]).dueDay).toBe("2026-11-04");
  });

  test("follows the published formulas from the second day on", () => {
    // [X] FSRS 6 with the weights of ts-fsrs 5.4.2; [calc] written out:
    const w = { 4: 6.4133, 5: 0.8334, 8: 1.8722, 9: 0.1666, 10: 0.796, 20: 0.1542 };
    const stability = 2.3065;
    const difficulty = w[4] - Math.exp(2 * w[5]) + 1;
    const factor = 0.9 ** (-1 / w[20]) - 1;
    const recall = (1 + (factor * 2) / stability) ** -w[20];
    const grown =
      stability *
      (1 + Math.exp(w[8]) * (11 - difficulty) * stability ** -w[9] * (Math.exp(w[10] * (1 - recall)) - 1));
    const { dueDay } = itemRow("scale", "2026-11-03", "2026-11-05");
    expect(daysFromTo(day("2026-11-05"), dueDay)).toBe(Math.round(grown));
  });

  test("is where the library's own cards would be due, day after day, as far as half a year", () => {
    const scheduler = fsrs({
      enable_fuzz: false,
      enable_short_term: false,
      maximum_interval: LONGEST_AWAY_DAYS,
    });
    fc.assert(
      fc.property(
        fc.array(fc.record({ gap: fc.integer({ min: 1, max: 90 }), holds: fc.boolean() }), {
          minLength: 1,
          maxLength: 12,
        }),
        (tries) => {
          let at = day("2026-01-01");
          let card = createEmptyCard(noon(at));
          const days = tries.map(({ gap, holds }) => {
            at = daysAfter(at, gap);
            card = scheduler.next(card, noon(at), holds ? Rating.Good : Rating.Again).card;
            return itemDay(at, holds ? [15, 15] : [3, 15]);
          });
          // The cards push their four answers apart by days; what lies under that, the stability, is compared.
          const due = Math.max(1, Math.min(LONGEST_AWAY_DAYS, Math.round(card.stability)));
          expect(daysFromTo(at, itemRowOf(days).dueDay)).toBe(due);
        },
      ),
    );
  });

  test("does not depend on the order of the days, counts each day once, and lies after the last judged one", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 0, max: 400 }), { minLength: 1, maxLength: 30 }),
        fc.array(fc.integer({ min: 0, max: 15 }), { minLength: 30, maxLength: 30 }),
        fc.integer({ min: 1, max: 9 }),
        (places, hits, attempts) => {
          const days = places.map((place, n) =>
            itemDay(daysAfter(day("2026-01-01"), place), [hits[n] ?? 0, 15], { attempts }),
          );
          const row = itemRowOf(days);
          expect(itemRowOf([...days].reverse())).toEqual(row);
          expect(row.days).toBe(days.length);
          expect(row.attempts).toBe(days.length * attempts);
          const away = daysFromTo(row.lastDay, row.dueDay);
          expect(away).toBeGreaterThanOrEqual(1);
          expect(away).toBeLessThanOrEqual(LONGEST_AWAY_DAYS);
        },
      ),
    );
  });

  test("no days, or those of two items, are a mistake of ours", () => {
    expect(() => itemRowOf([])).toThrow(RangeError);
    expect(() =>
      itemRowOf([itemDay("2026-11-03"), itemDay("2026-11-04", [1, 1], { item: "other" })]),
    ).toThrow("two items");
  });
});

describe("what is due", () => {
  const row = itemRowOf([itemDay("2026-11-03", [9, 15])]);
  const wish = (
    more: { kind: "suspended" | "taken back" } | { kind: "moved"; toDay: PracticeDay },
    at: string,
  ) => ({ item: row.item, wishedAtEpochMs: noon(at), ...more }) as Wish;

  test("is told with its last day, the first try of it and the days since", () => {
    expect(dueItems([row], [], day("2026-11-28"))).toMatchObject([
      { state: "due", why: "last on 3 November, first try 9 of 15; 25 days since", overdueDays: 24 },
    ]);
    const uneven = itemRowOf([itemDay("2025-11-03", [15, 15], { spreadMs: 52 })]);
    expect(dueItems([uneven], [], day("2026-11-28"))[0]?.why).toBe(
      "last on 3 November 2025, first try 15 of 15, ± 52 ms; 390 days since",
    );
  });

  test("can be moved and suspended, and the last wish counts", () => {
    const today = day("2026-11-28");
    const moved = wish({ kind: "moved", toDay: day("2026-12-05") }, "2026-11-28");
    const off = wish({ kind: "suspended" }, "2026-11-29");
    const on = wish({ kind: "taken back" }, "2026-11-30");
    const state = (...wishes: Wish[]) => dueItems([row], wishes, today)[0];
    expect(state(moved)).toMatchObject({ state: "later", dueDay: "2026-12-05", moved: true });
    expect(state(off, moved)).toMatchObject({ state: "suspended" });
    expect(state(on, off, moved)).toMatchObject({ state: "due", dueDay: "2026-11-04", moved: false });
    expect([...suspendedItems([off, moved])]).toEqual([row.item]);
    expect([...suspendedItems([off, on])]).toEqual([]);
  });

  test("has its own date again once it was practised after it was moved", () => {
    const moved = wish({ kind: "moved", toDay: day("2026-12-05") }, "2026-11-28");
    const practised = itemRowOf([itemDay("2026-11-03", [9, 15]), itemDay("2026-11-29")]);
    expect(dueItems([practised], [moved], day("2026-12-01"))[0]).toMatchObject({
      moved: false,
      dueDay: practised.dueDay,
    });
  });

  test("comes most overdue first; the suspended come last", () => {
    const rows = [itemRow("b", "2026-11-20"), itemRow("a", "2026-11-01"), itemRow("c", "2026-11-27")];
    const off: Wish = { item: "a", kind: "suspended", wishedAtEpochMs: 0 };
    const names = (wishes: readonly Wish[]) =>
      dueItems(rows, wishes, day("2026-11-28")).map((one) => `${one.row.item} ${one.state}`);
    expect(names([])).toEqual(["a due", "b due", "c later"]);
    expect(names([off])).toEqual(["b due", "c later", "a suspended"]);
  });

  test("leaves out a slow rung once a faster one of the same stretch held", () => {
    const rung = (percent: number, on: string, right: readonly [number, number] = [15, 15]) =>
      itemRowOf([
        itemDay(on, right, {
          item: `tune x 0-80 at ${percent} %`,
          what: { tuneId: "x", rung: `phrase 0-80 at ${percent} %` },
        }),
      ]);
    const due = (...rows: ReturnType<typeof rung>[]) =>
      dueItems(rows, [], day("2026-11-28")).map(({ row: { item } }) => item);
    expect(due(rung(60, "2026-11-01"), rung(80, "2026-11-02"))).toEqual(["tune x 0-80 at 80 %"]);
    expect(due(rung(60, "2026-11-01"), rung(80, "2026-11-02", [2, 15]))).toHaveLength(2);
    expect(due(rung(60, "2026-11-03"), rung(80, "2026-11-02"))).toHaveLength(2);
  });
});
