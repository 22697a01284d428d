import { describe, expect, test } from "vitest";
import {
  doneInWords,
  isBegun,
  type KeptPlan,
  keptPlan,
  leftSeconds,
  openLine,
  partNow,
  readKeptPlan,
  takenUp,
  withLineState,
  withoutItem,
  withSkipped,
} from "../../../core/progress/plan/plan-kept.ts";
import { lineName, type PlanLine, type PlayedLine } from "../../../core/progress/plan/plan-shape.ts";
import { daysAfter, type PracticeDay } from "../../../core/progress/practice-day.ts";

const TODAY = "2026-11-28" as PracticeDay;

const line = (
  kind: PlayedLine["kind"],
  items: readonly string[],
  turns: PlayedLine["turns"] = "mixed",
): PlayedLine => ({
  kind,
  number: 1,
  minutes: 6,
  parts: items.map((item) => ({
    item,
    title: item,
    harp: "G harp",
    recipe: { kind: "attempt", id: item },
    why: "a reason",
  })),
  turns,
  why: "a reason",
});
const rest = (number: number): PlanLine => ({ kind: "rest", number, minutes: 2, why: "a rest" });
const LINES = [line("warm-up", ["a"]), rest(1), line("due", ["b", "c"]), rest(2), line("new", ["d"])];
const PLAN = keptPlan({ day: TODAY, minutes: 30, lines: LINES });

const nameOf = (one: PlanLine | null) => (one === null ? null : lineName(one));
const done = (kept: KeptPlan, name: string, seconds = 60) =>
  withLineState(kept, name, { state: "done", seconds, takes: 1 });

describe("a plan that is kept", () => {
  test("goes on with the first open line, and rests only between playing", () => {
    expect(nameOf(openLine(PLAN))).toBe("warm-up 1");
    // Skipped without playing: no rest from nothing.
    expect(nameOf(openLine(withSkipped(PLAN, "warm-up 1")))).toBe("due 1");
    const first = done(PLAN, "warm-up 1");
    expect(nameOf(openLine(first))).toBe("rest 1");
    const rested = done(first, "rest 1");
    expect(nameOf(openLine(rested))).toBe("due 1");
    // No second rest where nothing was played since the first.
    expect(nameOf(openLine(withSkipped(rested, "due 1")))).toBe("new 1");
    // None at the end.
    expect(nameOf(openLine(withSkipped(done(rested, "due 1"), "new 1")))).toBeNull();
  });

  test("begins with no rest when it is taken up after a pause", () => {
    const first = done(PLAN, "warm-up 1");
    expect(nameOf(openLine(takenUp(first)))).toBe("due 1");
    expect(takenUp(PLAN)).toBe(PLAN);
  });

  test("lets a line be skipped and taken up again, but not undone", () => {
    const skipped = withSkipped(PLAN, "due 1");
    expect(skipped.lines["due 1"]).toMatchObject({ state: "skipped" });
    expect(withSkipped(skipped, "due 1").lines["due 1"]).toMatchObject({ state: "open" });
    const over = done(PLAN, "due 1");
    expect(withSkipped(over, "due 1")).toBe(over);
    expect(isBegun(skipped)).toBe(false);
    expect(isBegun(over)).toBe(true);
  });

  test("gives parts their turn by takes, or by their share of the minutes", () => {
    const mixed = line("due", ["b", "c"]);
    const blocked = line("due", ["b", "c"], "blocked");
    const at = (takes: number, seconds: number) => withLineState(PLAN, "due 1", { takes, seconds });
    expect([0, 1, 2].map((takes) => partNow(at(takes, 0), mixed).item)).toEqual(["b", "c", "b"]);
    // [calc] two parts share six minutes: 180 s each
    expect([0, 179, 180, 360, 999].map((seconds) => partNow(at(7, seconds), blocked).item)).toEqual([
      "b",
      "b",
      "c",
      "c",
      "c",
    ]);
    expect(leftSeconds(at(0, 100), mixed)).toBe(260);
    expect(leftSeconds(at(0, 999), mixed)).toBe(0);
  });

  test("lets go of what is not wanted today: a part of a line, or the line whose only part it was", () => {
    const less = withoutItem(PLAN, "b");
    expect(less.plan.lines[2]).toMatchObject({ parts: [{ item: "c" }] });
    expect(withoutItem(less, "c").lines["due 1"]).toMatchObject({ state: "skipped" });
    expect(withoutItem(PLAN, "nowhere")).toBe(PLAN);
  });

  test("says what was done of it, rests not counted", () => {
    const kept = done(done(done(PLAN, "warm-up 1", 200), "rest 1", 120), "due 1", 340);
    // [calc] (200 + 340) s = 9 minutes
    expect(doneInWords(kept)).toBe("2 of 3 lines, 9 minutes of practice.");
  });

  test("comes back as it was on its day, and not on another", () => {
    const kept = done(PLAN, "warm-up 1");
    const stored: unknown = JSON.parse(JSON.stringify(kept));
    expect(readKeptPlan(stored, TODAY)).toEqual(kept);
    expect(readKeptPlan(stored, daysAfter(TODAY, 1))).toBeNull();
  });

  test.each([
    ["nothing", null],
    ["a text", "plan"],
    ["no lines", { ...PLAN, plan: { ...PLAN.plan, lines: [] } }],
    ["a line without parts", { ...PLAN, plan: { ...PLAN.plan, lines: [{ ...LINES[0], parts: [] }] } }],
    ["a line of no kind", { ...PLAN, plan: { ...PLAN.plan, lines: [{ ...LINES[0], kind: "nap" }] } }],
    ["negative minutes", { ...PLAN, plan: { ...PLAN.plan, lines: [{ ...LINES[0], minutes: -1 }] } }],
    ["a damaged state", { ...PLAN, lines: { "due 1": { state: "half" } } }],
  ])("is not taken from %s", (_, damaged) => {
    expect(readKeptPlan(damaged, TODAY)).toBeNull();
  });
});
