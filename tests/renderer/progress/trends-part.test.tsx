import { cleanup, fireEvent, render, screen, within } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import { CalendarPart } from "../../../renderer/progress/calendar-part.tsx";
import { minutesInWords } from "../../../renderer/progress/minutes.ts";
import type { Read, TrendsAnswer, TrendsAsk } from "../../../renderer/progress/progress-view.ts";
import { besideItsVerdict, howSure, underItsMeasure } from "../../../renderer/progress/sentences.ts";
import { TrendsPart } from "../../../renderer/progress/trends-part.tsx";
import { thirtyDays } from "../../support/thirty-days.ts";
import { asking } from "./kept-days.ts";

afterEach(cleanup);

const ASK: TrendsAsk = { weeks: 8, kind: "group", order: "most practised", scope: null };
const entries = thirtyDays(5);
const nothing = { ask: ASK, onAsk: () => {}, onStop: () => {}, onAgain: () => {} };

/** Of so many days of practice, two takes each. */
async function readOf(days: number): Promise<Read<TrendsAnswer>> {
  return { kind: "read", answer: await asking(entries.slice(0, 2 * days))("trends", ASK) };
}

describe("trends", () => {
  test("say what will be here, that they are being read, and what is wrong, each with a way on", async () => {
    const [onStop, onAgain] = [vi.fn(), vi.fn()];
    const props = { ...nothing, onStop, onAgain };
    const { rerender } = render(<TrendsPart {...props} read={await readOf(0)} />);
    expect(screen.getByText(/Once something was played on two days/)).toBeTruthy();
    rerender(<TrendsPart {...props} read={{ kind: "reading" }} />);
    fireEvent.click(within(screen.getByRole("status")).getByRole("button", { name: "Stop" }));
    expect(onStop).toHaveBeenCalledOnce();
    rerender(<TrendsPart {...props} read={{ kind: "trouble", words: "The disk is full." }} />);
    expect(screen.getByRole("alert").textContent).toMatch(/The disk is full/);
    fireEvent.click(screen.getByRole("button", { name: "Try again" }));
    expect(onAgain).toHaveBeenCalledOnce();
  });

  test("have one sentence a measure, and prove the chosen one by picture and table", async () => {
    render(<TrendsPart {...nothing} read={await readOf(26)} />);
    const measures = screen.getAllByRole("radio");
    expect(measures.length).toBeGreaterThanOrEqual(5);
    const spread = screen.getByRole("radio", { name: /^Intonation spread ✓? ?better/ });
    fireEvent.click(spread);
    expect(screen.getByRole("heading", { name: "Intonation spread" })).toBeTruthy();
    expect(screen.getByText("First attempt of the day:")).toBeTruthy();
    expect(screen.getByText("Best of the day:")).toBeTruthy();
    expect(screen.getByRole("img", { name: /^Intonation spread: .* scale/ })).toBeTruthy();
    // [calc] a row for each of 26 days, and the head.
    expect(within(screen.getByRole("table")).getAllByRole("row")).toHaveLength(26 + 1);
    expect(
      screen.getByText(/^The ranges of the changes are right, all \d together, in 95 of 100/),
    ).toBeTruthy();
  });

  test("with fewer than eight days they say kindly that it is too early, and show what there is", async () => {
    render(<TrendsPart {...nothing} read={await readOf(5)} />);
    expect(screen.getByText(/^Too early: 5 of 8 sessions\. What was played is shown already/)).toBeTruthy();
    expect(screen.getAllByText("5 of 8 sessions that can be compared.").length).toBeGreaterThan(3);
    expect(within(screen.getByRole("table")).getAllByRole("row")).toHaveLength(5 + 1);
    expect(screen.queryByText(/^The ranges? of/)).toBeNull();
  });

  test("another kind, another range is asked for", async () => {
    const onAsk = vi.fn();
    render(<TrendsPart {...nothing} onAsk={onAsk} read={await readOf(26)} />);
    fireEvent.change(screen.getByLabelText("Compare"), { target: { value: "position" } });
    expect(onAsk).toHaveBeenLastCalledWith({ ...ASK, kind: "position", scope: null });
    fireEvent.change(screen.getByLabelText("Days"), { target: { value: "all" } });
    expect(onAsk).toHaveBeenLastCalledWith({ ...ASK, weeks: null });
  });

  test("explain themselves without a word of statistics", async () => {
    render(<TrendsPart {...nothing} read={await readOf(0)} />);
    const told = screen.getByText("How this is told").closest("details")?.textContent ?? "";
    for (const wanted of ["first attempt", "From … to …", "Like with like", "A bad day"])
      expect(told.toLowerCase()).toContain(wanted.toLowerCase());
    expect(told).not.toMatch(
      /confidence|regression|slope|median|standard deviation|significan|p-value|Theil|Wilson|baseline/i,
    );
  });
});

describe("sentences", () => {
  const line = (words: string, verdict: "better" | "no clear change" | "too early") => ({
    kind: "day" as const,
    verdict,
    points: [],
    band: [],
    change: null,
    sessions: 3,
    notes: 100,
    words,
  });

  test("lose their measure, and how sure they are, which is said once", () => {
    const words =
      "Evenness, all attempts of each day: 36 to 26 ms over 24 sessions (1822 notes), between 20 ms less and 1 more (95 in 100 for all 6 measures together): no clear change.";
    const short = "36 to 26 ms over 24 sessions (1822 notes), between 20 ms less and 1 more";
    expect(besideItsVerdict(line(words, "no clear change"))).toBe(`${short}.`);
    expect(underItsMeasure(line(words, "no clear change"))).toBe(`${short}: no clear change.`);
    expect(underItsMeasure(line("", "too early"))).toBe("Too early: 3 of 8 sessions that can be compared.");
    expect(howSure(1)).toMatch(/^The range of a change/);
  });
});

describe("the calendar", () => {
  test("has a row for each of six weeks, the minutes in words, picture and table", async () => {
    const answer = await asking(entries)("minutes", null);
    render(<CalendarPart {...nothing} read={{ kind: "read", answer }} />);
    // [calc] 26 days of two takes, a minute each.
    expect(screen.getByText(/^52 min on 26 days, 24 Aug to 4 Oct 2026\. A day begins at four/)).toBeTruthy();
    const table = screen.getByRole("table");
    expect(within(table).getAllByRole("row")).toHaveLength(1 + 6);
    expect(within(table).getAllByText("2 min")).toHaveLength(26);
    expect(screen.getByRole("img", { name: "Minutes of each day" })).toBeTruthy();
    expect(minutesInWords(30_000)).toBe("< 1 min");
  });

  test("says what will be here", async () => {
    render(<CalendarPart {...nothing} read={{ kind: "read", answer: { days: [] } }} />);
    expect(screen.getByText(/Every day with a take stands here/)).toBeTruthy();
  });
});
