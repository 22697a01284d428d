import { describe, expect, test } from "vitest";
import { trendsOf } from "../../../core/progress/trends/trends.ts";
import { bpm } from "../../../core/units.ts";
import { cents, OF_TWENTY, rowsOf, spreads, trendOf } from "../../support/progress-rows.ts";
import { fact, measured } from "../../support/session-facts.ts";

describe("only like is compared with like", () => {
  test("an easier exercise is no progress", () => {
    // The hard one on the first twelve days, the easy one on the last twelve of sixteen; neither changes.
    const hard = Array.from({ length: 12 }, (_, day) => day);
    const easy = hard.map((day) => day + 4);
    const play = (days: readonly number[], group: string, spread: number) =>
      days.map((day) =>
        fact(day, {
          id: `${group} ${day}`,
          group,
          measured: measured({ plainCents: cents(0, spread + (day % 2)) }),
        }),
      );
    const { day } = trendOf([...play(hard, "hard", 20), ...play(easy, "easy", 8)], "intonation spread");
    expect(day.verdict).toBe("no clear change");
    // [calc] a step of the logarithm is that of 20 and 21, or 8 and 9, whichever day it is: no slope at all in the middle.
    expect(Math.abs((day.change?.to ?? 0) - (day.change?.from ?? 0))).toBeLessThan(0.5);
  });

  test("days that share no exercise are not compared, however many they are", () => {
    const days = Array.from({ length: 20 }, (_, day) =>
      fact(day, { group: `exercise ${day}`, measured: measured({ plainCents: cents(0, 20 - 0.5 * day) }) }),
    );
    const { day } = trendOf(days, "intonation spread");
    expect([day.verdict, day.sessions]).toEqual(["too early", 0]);
    expect(day.points).toHaveLength(20);
  });

  test("a bad day that is bad in two exercises is one bad day: the interval grows no narrower", () => {
    const values = [12, 9, 13, 8, 11, 12, 9, 10, 14, 8];
    const one = trendOf(spreads(values), "intonation spread").day;
    const twice = values.flatMap((spread, day) =>
      ["a", "b"].map((group) =>
        fact(day, { id: `${day} ${group}`, group, measured: measured({ plainCents: cents(0, spread) }) }),
      ),
    );
    const two = trendOf(twice, "intonation spread").day;
    expect(two.change?.low).toBeCloseTo(one.change?.low ?? Number.NaN, 6);
    expect(two.change?.high).toBeCloseTo(one.change?.high ?? Number.NaN, 6);
    expect(two.notes).toBe(2 * one.notes);
  });

  test("a first attempt is compared with first attempts, a later one with later ones", () => {
    // Cold 14, warm 10 every day; from the tenth day on a second attempt is played: no progress.
    const days = Array.from({ length: 20 }, (_, day) => {
      const cold = fact(day, { hour: 9, measured: measured({ plainCents: cents(0, 14 + (day % 2)) }) });
      const warm = fact(day, { hour: 10, measured: measured({ plainCents: cents(0, 10 + (day % 2)) }) });
      return day < 10 ? [cold] : [cold, warm];
    }).flat();
    const trend = trendOf(days, "intonation spread");
    expect(trend.day.verdict).toBe("no clear change");
    expect(trend.first?.verdict).toBe("no clear change");
    // More attempts make a better best: it falls, and is not judged.
    expect(trend.best?.verdict).toBe("not judged");
    expect((trend.best?.change?.to ?? 0) - (trend.best?.change?.from ?? 0)).toBeLessThan(-2);
    expect(trend.best?.words).toContain("Not judged: more attempts in a day make a better best.");
  });

  test("more notes with the same scatter are no wider spread", () => {
    // [M] Abramowitz and Stegun, digamma at 3.5: 1.10316. [calc] (1.10316 - ln 3.5) / 2 = -0.0748 is what eight notes take.
    const days = Array.from({ length: 20 }, (_, day) => {
      const notes = day < 10 ? 8 : 400;
      const taken = day < 10 ? Math.exp((1.10316 - Math.log(3.5)) / 2) : 1;
      const step = 12 * taken * Math.sqrt((notes - 1) / notes);
      return fact(day, {
        measured: measured({
          plainCents: Array.from({ length: notes }, (_, n) => (n % 2 === 0 ? step : -step)),
        }),
      });
    });
    const { points } = trendOf(days, "intonation spread").day;
    for (const { value } of points) expect(Math.abs(value - 12)).toBeLessThan(0.1);
  });
});

describe("a view", () => {
  const steady = spreads(Array.from({ length: 20 }, (_, day) => 10 + (day % 5)));

  test("has the measures its days have, of the scope that was asked for", () => {
    const elsewhere = steady.map((one) => ({
      ...one,
      id: `${one.id} third`,
      group: "third",
      what: { ...one.what, position: 3 },
    }));
    const rows = rowsOf([...steady, ...elsewhere]);
    const sessions = (position: number) =>
      trendsOf(rows, [{ kind: "position", position }]).trends.map(({ day }) => day.notes);
    expect(sessions(2)).toEqual(sessions(3));
    expect(sessions(2).length).toBeGreaterThan(2);
    expect(trendsOf(rows, [{ kind: "position", position: 4 }])).toMatchObject({
      trends: [],
      days: 0,
      judged: 0,
    });
  });

  test("makes its intervals the wider the more is looked at together", () => {
    const restless = Array.from({ length: 20 }, (_, day) => {
      const wrong = (7 * day) % 5;
      const plainCents = cents(0, 10 + (day % 5));
      return fact(day, {
        measured: measured({ hit: 20 - wrong, wrong, plainCents, ms: cents(0, 20 + ((3 * day) % 7)) }),
      });
    });
    const one = trendsOf(rowsOf(restless), [{ kind: "group", group: restless[0]?.group ?? "" }]);
    expect(one.judged).toBeGreaterThan(1);
    expect(one.confidence).toBeGreaterThan(0.96);
    expect(one.trends[0]?.day.words).toContain(`95 in 100 for all ${one.judged} measures together`);
  });

  test("a tempo reached is the tempo itself, within one band too, and told in the player's beats", () => {
    // 90 to 99 is one band; all of it is held. [calc] a beat every two days.
    const days = Array.from({ length: 18 }, (_, day) =>
      fact(day, { bpm: bpm(90 + Math.floor(day / 2)), measured: measured({ ms: Array(20).fill(0) }) }),
    );
    const { day, unit, noteValue, first, best } = trendOf(days, "tempo reached");
    expect([unit, noteValue, first, best]).toEqual(["bpm", "1/4", null, null]);
    expect(day.verdict).toBe("better");
    expect(Math.abs((day.change?.from ?? 0) - 90)).toBeLessThan(1);
    expect(Math.abs((day.change?.to ?? 0) - 98)).toBeLessThan(1);
    expect(day.words).toMatch(
      /^Tempo reached, fastest of each day: crotchet = (90|89)\.\d to 98\.\d over 18 sessions, /,
    );
  });

  test("gives a share Wilson's interval at every day", () => {
    const days = Array.from({ length: 8 }, (_, day) =>
      fact(day, { measured: measured({ hit: 16, wrong: 4 }) }),
    );
    // [calc] Wilson, 16 of 20: (2·16 + 3.8415 ± 1.96 √(3.8415 + 64·0.2)) / (2·23.8415) = 0.5840 and 0.9193
    for (const { value, low, high } of trendOf(days, "notes right").day.points) {
      expect(value).toBeCloseTo(0.8, 10);
      expect(low).toBeCloseTo(0.584, 3);
      expect(high).toBeCloseTo(0.9193, 3);
    }
  });

  test("of a year of days is told from joined neighbours, every day still a point", () => {
    const year = spreads(Array.from({ length: 200 }, (_, day) => 12 - day / 100 + (day % 3) / 10));
    const { day } = trendOf(year, "intonation spread");
    expect(day.points).toHaveLength(200);
    expect(day.verdict).toBe("better");
    // [calc] 12 to 10 about a middle of 0.1 above; the logarithm of a straight line bends by less than 0.1.
    expect(Math.abs((day.change?.from ?? 0) - 12.1 * OF_TWENTY)).toBeLessThan(0.15);
    expect(Math.abs((day.change?.to ?? 0) - 10.1 * OF_TWENTY)).toBeLessThan(0.15);
  });
});
