import { beforeAll, describe, expect, test } from "vitest";
import { practiceDay } from "../../../core/progress/practice-day.ts";
import { ATTEMPT_VERSION } from "../../../core/score/attempt.ts";
import { DEMO_DAYS, type DemoAttempt, demoDays } from "../../../core/simulate/demo-days.ts";
import { isWeak } from "../../../core/simulate/demo-player.ts";
import { DEMO_TITLES, demoTunes } from "../../support/demo-tunes.ts";

/** 2026-09-30, 18:00 in Dublin, which is an hour ahead of UTC then [calc]. */
const LAST_BEGINS = Date.UTC(2026, 8, 30, 17);
const setting = (seed: number) => ({
  seed,
  zone: "Europe/Dublin",
  lastBeginsEpochMs: LAST_BEGINS,
  tunes: demoTunes(),
});

let days: readonly (readonly DemoAttempt[])[];
let other: readonly (readonly DemoAttempt[])[];
beforeAll(() => {
  days = [...demoDays(setting(3))];
  other = [...demoDays(setting(4))];
}, 120_000);

const all = () => [...days.flat(), ...other.flat()];
const daily = (attempts: readonly DemoAttempt[]) =>
  attempts.filter(({ exercise }) => exercise.kind === "scale" && exercise.position === 2);

describe("the made-up days", () => {
  test("are thirty days with rests, each of 6 to 15 attempts, the last on the day that was said", () => {
    for (const month of [days, other]) {
      expect(month).toHaveLength(30);
      const practised = month.filter((day) => day.length > 0);
      // [calc] every seventh day is a rest: at least 4 of 30.
      expect(practised.length).toBeLessThanOrEqual(26);
      expect(practised.length).toBeGreaterThan(20);
      for (const day of practised) {
        expect(day.length).toBeGreaterThanOrEqual(6);
        expect(day.length).toBeLessThanOrEqual(15);
        expect(new Set(day.map((one) => practiceDay(one.atEpochMs, one.zone))).size).toBe(1);
      }
      const dates = month.map(([first]) =>
        first === undefined ? null : practiceDay(first.atEpochMs, first.zone),
      );
      // [calc] the thirtieth day before and with 2026-09-30.
      expect(dates[0]).toBe("2026-09-01");
      expect(dates.at(-1)).toBe("2026-09-30");
    }
  });

  test("come one attempt after another, each after the one before has ended", () => {
    for (const month of [days.flat(), other.flat()])
      for (const [place, { atEpochMs }] of month.slice(1).entries()) {
        const before = month[place];
        const ended = (before?.atEpochMs ?? 0) + 1000 * (before?.attempt.take.durationSeconds ?? 0);
        expect(atEpochMs).toBeGreaterThan(ended);
      }
  });

  test("are marked like any other, say that they are made up, and have no take", () => {
    for (const one of all()) {
      expect(one.demo).toBe(true);
      expect(one.zone).toBe("Europe/Dublin");
      expect(one.attempt.version).toBe(ATTEMPT_VERSION);
      expect(one.attempt.marks).toHaveLength(one.exercise.notes.length);
      expect(one).not.toHaveProperty("take");
    }
  });

  test("are practice on a G and a D harp, in second and twelfth position, of drills and of three tunes", () => {
    const heard = days.flat().map(({ exercise }) => exercise);
    expect(new Set(heard.map(({ harp }) => harp.key))).toEqual(new Set(["G", "D"]));
    const places = new Set(heard.map(({ position }) => position));
    for (const position of [2, 12]) expect(places).toContain(position);
    expect(new Set(heard.map(({ kind }) => kind))).toEqual(
      new Set(["long-tones", "scale", "arpeggio", "breath-pair", "bend", "tune"]),
    );
    const tunes = heard.filter(({ kind }) => kind === "tune");
    expect(new Set(tunes.map(({ parameters }) => parameters.tuneId))).toEqual(new Set(DEMO_TITLES));
    for (const { parameters } of tunes) expect(parameters.rung).toMatch(/^(phrase|strain) /);
  });

  test("are the same for the same seed and others for another", () => {
    const [first] = demoDays(setting(3));
    expect(first).toEqual(days[0]);
    expect(other[0]).not.toEqual(days[0]);
  });
});

describe("the made-up player", () => {
  /** Share of weak reed actions that went wrong in some days, of the third try of a day and later. */
  const weakWrong = (from: number, to: number) => {
    const marks = [days, other].flatMap((month) =>
      month.slice(from, to).flatMap((day) =>
        daily(day)
          .slice(2)
          .flatMap(({ attempt }) => attempt.marks),
      ),
    );
    const weak = marks.filter(({ action }) => isWeak(action));
    expect(weak.length).toBeGreaterThan(50);
    return weak.filter(({ verdict }) => verdict !== "hit").length / weak.length;
  };
  const meanOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const spreadsOf = (some: readonly DemoAttempt[], of: "intonation" | "timing") =>
    meanOf(
      some.flatMap(
        ({ attempt: { summary } }) =>
          (of === "timing" ? summary.timing.spreadMs : summary.intonation.spreadCents) ?? [],
      ),
    );
  const later = (from: number, to: number) =>
    [days, other].flatMap((month) => month.slice(from, to).flatMap((day) => daily(day).slice(2)));

  test("gets better at what it is weak at and steadier in time, and stays as it is in pitch", () => {
    // [calc] 0.4 to 0.06 in 29 steps: 0.34 on the mean of days 0 to 10, 0.12 on that of days 19 to 29; and two standard errors
    // of some 80 notes each, sqrt(0.34 * 0.66 / 80) = 0.053, with what differs from day to day.
    expect(weakWrong(0, 11)).toBeGreaterThan(0.2);
    expect(weakWrong(19, DEMO_DAYS)).toBeLessThan(0.22);
    // [calc] 32 to 20 ms: 30 on the mean of the first days and 22 of the last, and 18 ms for every weak plain note on top.
    expect(spreadsOf(later(0, 11), "timing") / spreadsOf(later(19, DEMO_DAYS), "timing")).toBeGreaterThan(
      1.1,
    );
    // [calc] 5 cents of the plain notes throughout; bends are two notes of 29.
    const inPitch = spreadsOf(later(0, 11), "intonation") / spreadsOf(later(19, DEMO_DAYS), "intonation");
    expect(inPitch).toBeGreaterThan(0.8);
    expect(inPitch).toBeLessThan(1.4);
  });

  test("is worse at the first try of a day than at the third", () => {
    const tries = (n: number) =>
      [days, other].flatMap((month) => month.flatMap((day) => daily(day).slice(n, n + 1)));
    // [calc] all scatters are 1.4 times as wide at first.
    const ratio = spreadsOf(tries(0), "timing") / spreadsOf(tries(2), "timing");
    expect(ratio).toBeGreaterThan(1.15);
    expect(ratio).toBeLessThan(1.65);
  });
});
