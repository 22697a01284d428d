import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { trendsOf } from "../../../core/progress/trends/trends.ts";
import { cents, OF_TWENTY, rowsOf, spreads, trendOf } from "../../support/progress-rows.ts";
import { fact, measured } from "../../support/session-facts.ts";

const down = (days: number) => Array.from({ length: days }, (_, day) => 12 - (3 * day) / (days - 1));
const anyDays = fc.array(fc.integer({ min: 50, max: 200 }), { minLength: 8, maxLength: 16 });

describe("a trend", () => {
  test("of a spread that goes from 12 to 9 says so, with its interval and what was compared", () => {
    const { day, compared, first } = trendOf(spreads(down(20)), "intonation spread");
    // [calc] a straight line but for the logarithm: within 0.2 cents of its ends.
    expect(Math.abs((day.change?.from ?? 0) - 12 * OF_TWENTY)).toBeLessThan(0.2);
    expect(Math.abs((day.change?.to ?? 0) - 9 * OF_TWENTY)).toBeLessThan(0.2);
    expect(day.verdict).toBe("better");
    expect(first?.verdict).toBe("better");
    expect([day.sessions, day.notes]).toEqual([20, 400]);
    expect(day.points).toHaveLength(20);
    expect(day.words).toMatch(
      /^Intonation spread, all attempts of each day: 12\.\d to 9\.\d cents over 20 sessions \(400 notes\), /,
    );
    expect(day.words).toContain("cents less (95 in 100");
    expect(compared).toBe("The same exercise on the G harp, crotchet = 90 to 99: Scale.");
  });

  test("of seven sessions is too early, of eight it is told", () => {
    const seven = trendOf(spreads(down(7)), "intonation spread").day;
    expect([seven.verdict, seven.change, seven.band]).toEqual(["too early", null, []]);
    expect(seven.points).toHaveLength(7);
    expect(seven.words).toBe(
      "Intonation spread, all attempts of each day: too early to tell, 7 sessions that can be compared, 8 are needed.",
    );
    expect(trendOf(spreads(down(8)), "intonation spread").day.verdict).toBe("better");
  });

  test("of nothing but up and down is no clear change", () => {
    const up_and_down = Array.from({ length: 20 }, (_, day) => (day % 2 === 0 ? 10 : 12));
    const { day } = trendOf(spreads(up_and_down), "intonation spread");
    expect(day.verdict).toBe("no clear change");
    expect(day.change?.low).toBeLessThanOrEqual(0);
    expect(day.change?.high).toBeGreaterThanOrEqual(0);
    expect(day.words).toMatch(/: no clear change\.$/);
  });

  test("does not depend on the order its rows come in", () => {
    fc.assert(
      fc.property(anyDays, fc.infiniteStream(fc.nat()), (values, chance) => {
        const { groupDays, itemDays } = rowsOf([
          ...spreads(values.map((v) => v / 10)),
          ...spreads(
            values.map((v) => v / 20),
            0,
            { group: "other" },
          ).map((one) => ({ ...one, id: `${one.id} b` })),
        ]);
        const mixed = groupDays
          .map((row) => ({ row, at: chance.next().value }))
          .sort((a, b) => a.at - b.at)
          .map(({ row }) => row);
        const scope = [{ kind: "all" }] as const;
        expect(trendsOf({ groupDays: mixed, itemDays }, scope)).toEqual(
          trendsOf({ groupDays, itemDays }, scope),
        );
      }),
      { numRuns: 5 },
    );
  });

  test("turned round in time turns its sign, and better into worse", () => {
    const turned = { better: "worse", worse: "better" } as Readonly<Record<string, string>>;
    fc.assert(
      fc.property(anyDays, (values) => {
        const [on, back] = [values, [...values].reverse()].map(
          (days) => trendOf(spreads(days.map((v) => v / 10)), "intonation spread").day,
        );
        expect(back?.verdict).toBe(turned[on?.verdict ?? ""] ?? on?.verdict);
        expect(back?.change?.from).toBeCloseTo(on?.change?.to ?? Number.NaN, 6);
        expect(back?.change?.low).toBeCloseTo(-(on?.change?.high ?? Number.NaN), 6);
      }),
      { numRuns: 8 },
    );
  });

  test("of spreads twice as wide is twice as large and no surer", () => {
    fc.assert(
      fc.property(anyDays, (values) => {
        const [one, two] = [1, 2].map(
          (by) => trendOf(spreads(values.map((v) => (by * v) / 5)), "intonation spread").day,
        );
        expect(two?.verdict).toBe(one?.verdict);
        // 1 %: sums are kept to a tenth of a cent, of spreads from 10 cents on.
        for (const part of ["from", "to"] as const)
          expect((two?.change?.[part] ?? 0) / (one?.change?.[part] ?? 1)).toBeCloseTo(2, 1);
      }),
      { numRuns: 8 },
    );
  });
});

describe("calibration that moves", () => {
  const drifting = Array.from({ length: 20 }, (_, day) =>
    fact(day, {
      measured: measured({
        plainCents: cents(0.3 * day, 10 + (day % 3)),
        ms: cents(0.75 * day, 20 + (day % 4)),
      }),
    }),
  );

  test("is told as moved, neither better nor worse, and moves no other measure", () => {
    for (const measure of ["intonation bias", "timing bias"] as const) {
      const { day, better } = trendOf(drifting, measure);
      expect([day.verdict, better]).toEqual(["changed", null]);
      expect(day.words).toContain("Neither better nor worse");
    }
    for (const measure of ["intonation spread", "timing spread", "notes right", "evenness"] as const)
      expect(trendOf(drifting, measure).day.verdict).toBe("no clear change");
    // [calc] 0 to 19 · 0.3 = 5.7 cents
    expect(trendOf(drifting, "intonation bias").day.change?.to).toBeCloseTo(5.7, 1);
  });

  test("from another place moves no verdict: a constant added to every bias changes none", () => {
    fc.assert(
      fc.property(anyDays, fc.integer({ min: -30, max: 30 }), (values, up) => {
        const biases = (by: number) =>
          trendOf(
            values.map((v, day) => fact(day, { measured: measured({ plainCents: cents(v / 20 + by, 10) }) })),
            "intonation bias",
          ).day;
        const [one, other] = [biases(0), biases(up)];
        expect(other.verdict).toBe(one.verdict);
        // Sums are kept to a tenth of a cent.
        expect(Math.abs((other.change?.low ?? 0) - (one.change?.low ?? 0))).toBeLessThan(0.2);
      }),
      { numRuns: 8 },
    );
  });

  test("does not reach bends, which are measured from the plain notes of the same attempts", () => {
    const days = Array.from({ length: 20 }, (_, day) =>
      fact(day, {
        measured: measured({
          plainCents: cents(0.3 * day, 8),
          bendCents: cents(0.3 * day - 15, 10 + (day % 2)),
        }),
      }),
    );
    const { day } = trendOf(days, "bends from plain notes");
    expect(day.verdict).toBe("no clear change");
    // [calc] √(15² + 10.5² · 19/20) = 18.1, the middle of the two kinds of days
    expect(Math.abs((day.change?.from ?? 0) - 18.1 * OF_TWENTY)).toBeLessThan(0.5);
  });
});
