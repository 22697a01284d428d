import { describe, expect, test } from "vitest";
import { groupDayOf } from "../../../core/progress/counts/roll-ups.ts";
import { comparablesOf } from "../../../renderer/progress/comparables.ts";
import type { TrendsAsk } from "../../../renderer/progress/progress-view.ts";
import { fact } from "../../support/session-facts.ts";
import { thirtyDays } from "../../support/thirty-days.ts";
import { asking } from "./kept-days.ts";

const ASK: TrendsAsk = { weeks: 8, kind: "group", order: "most practised", scope: null };
const entries = thirtyDays(5);
const ask = asking(entries);

describe("what the history says", () => {
  test("nothing was practised: no days", async () => {
    const none = asking([]);
    expect(await none("trends", ASK)).toEqual({ days: null });
    expect(await none("weak spots", { weeks: 8, harp: null })).toEqual({ days: null });
    expect(await none("minutes", null)).toEqual({ days: [] });
  });

  test("without choosing anything: what was practised most, over the days up to the last one", async () => {
    const answer = await ask("trends", ASK);
    if (answer.days === null || answer.shown === null) throw new Error("there are thirty days");
    // [calc] the last of thirty days from 2026-09-01 on is 2026-09-30; eight weeks that end with it begin on 2026-08-06.
    expect(answer.days).toEqual({ from: "2026-08-06", to: "2026-09-30" });
    expect(answer.comparables).toHaveLength(1);
    // [calc] thirty days, every seventh a rest.
    expect(answer.shown.of.days).toBe(26);
    expect(answer.shown.view.days).toBe(26);
    // The player of these days scatters less and less, by 10 cents in all; the timing stays as it is.
    const verdict = new Map(answer.shown.view.trends.map(({ measure, day }) => [measure, day.verdict]));
    expect(verdict.get("intonation spread")).toBe("better");
    expect(verdict.get("timing spread")).toBe("no clear change");
  });

  test("only the days that are asked for are looked at", async () => {
    const answer = await ask("trends", { ...ASK, weeks: 4 });
    if (answer.days === null) throw new Error("there are thirty days");
    // [calc] 28 days up to the 30th begin on the 3rd.
    expect(answer.days.from).toBe("2026-09-03");
    // [calc] of 26 days of practice the first two are left out.
    expect(answer.shown?.of.days).toBe(24);
    const all = await ask("trends", { ...ASK, weeks: null });
    expect(all.days?.from).toBe("2026-09-01");
  });

  test("a kind of which there is nothing is shown as nothing, not as something else", async () => {
    const answer = await ask("trends", { ...ASK, kind: "tune" });
    expect(answer).toMatchObject({ comparables: [], shown: null });
  });

  test("a scope that was left out of these days gives way to the first", async () => {
    const gone = await ask("trends", { ...ASK, scope: { kind: "group", group: "no longer practised" } });
    expect(gone.days === null ? null : gone.shown?.of.scope).not.toMatchObject({
      group: "no longer practised",
    });
  });

  test("a reed action is found by its harp and tab, and what can be told of it is told", async () => {
    const answer = await ask("trends", { ...ASK, kind: "reed" });
    if (answer.days === null || answer.shown === null) throw new Error("there are thirty days");
    // The scale of these days asks for every note once or twice: each reed action was played on every day.
    expect(answer.comparables.length).toBeGreaterThan(5);
    expect(new Set(answer.comparables.map(({ days }) => days))).toEqual(new Set([26]));
    expect(answer.comparables.every(({ words }) => / - G harp$/.test(words))).toBe(true);
    expect(answer.shown.view.days).toBe(26);
    expect(answer.shown.view.trends.map(({ measure }) => measure)).toContain("intonation bias");
    const pairs = await ask("trends", { ...ASK, kind: "pair" });
    expect(pairs.days === null ? "" : pairs.shown?.of.words).toMatch(/^-?\d+'* to -?\d+'* - G harp$/);
  });

  test("a position and everything can be compared too", async () => {
    for (const kind of ["position", "item", "all"] as const) {
      const answer = await ask("trends", { ...ASK, kind });
      expect(answer.days === null ? null : answer.shown?.view.days, kind).toBe(26);
    }
  });
});

describe("what can be compared", () => {
  const rows = [
    groupDayOf([fact(0, { group: "a" })]),
    groupDayOf([fact(1, { group: "a" })]),
    groupDayOf([fact(2, { group: "b" })]),
  ];
  const groups = (order: "most practised" | "newest") =>
    comparablesOf("group", rows, order).map(({ scope }) => (scope.kind === "group" ? scope.group : ""));

  test("is ordered by minutes or by the last day", () => {
    // [calc] two half minutes against one.
    expect(groups("most practised")).toEqual(["a", "b"]);
    expect(groups("newest")).toEqual(["b", "a"]);
    expect(comparablesOf("group", rows, "newest").map(({ days }) => days)).toEqual([1, 2]);
  });

  test("is named by what it is: exercise, harp and tempo; a tune without its stretch", () => {
    expect(comparablesOf("group", rows, "newest")[0]?.words).toBe("Scale - G harp, crotchet = 90 to 99");
    expect(comparablesOf("position", rows, "newest").map(({ words }) => words)).toEqual(["2nd position"]);
    const tune = groupDayOf([
      fact(0, {
        what: {
          title: "Chairs Against the Wall, A 1–4",
          kind: "tune",
          position: 2,
          harp: "G harp",
          techniques: [],
          tuneId: "chairs",
        },
      }),
    ]);
    expect(comparablesOf("tune", [...rows, tune], "newest").map(({ words }) => words)).toEqual([
      "Chairs Against the Wall",
    ]);
  });
});
