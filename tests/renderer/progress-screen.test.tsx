import { cleanup, fireEvent, render, screen, within } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import { minutesInWords } from "../../renderer/progress/calendar-part.tsx";
import { ProgressGatherer } from "../../renderer/progress/gather-progress.ts";
import { ProgressScreen } from "../../renderer/progress/progress-screen.tsx";
import type { ProgressRead, ProgressView } from "../../renderer/progress/progress-view.ts";
import { thirtyDays } from "../support/thirty-days.ts";

afterEach(cleanup);

const nothing = { onStop: () => {}, onAgain: () => {} };

function viewOf(days: number): ProgressView {
  const gatherer = new ProgressGatherer();
  for (const entry of thirtyDays(5).slice(0, 2 * days)) gatherer.add({ ...entry, zone: "UTC" });
  return gatherer.view();
}
const read = (days: number): ProgressRead => ({ kind: "read", view: viewOf(days) });

describe("the progress screen", () => {
  test("says what will be here, while it reads, and what is wrong, with a way on", () => {
    const [onStop, onAgain] = [vi.fn(), vi.fn()];
    const props = { ...nothing, onStop, onAgain };
    const { rerender } = render(<ProgressScreen {...props} progress={read(0)} />);
    expect(screen.getByText(/Every day with a take stands here/)).toBeTruthy();
    rerender(<ProgressScreen {...props} progress={{ kind: "reading" }} />);
    fireEvent.click(within(screen.getByRole("status")).getByRole("button", { name: "Stop" }));
    expect(onStop).toHaveBeenCalledOnce();
    rerender(<ProgressScreen {...props} progress={{ kind: "trouble", words: "The disk is full." }} />);
    expect(screen.getByRole("alert").textContent).toMatch(/The disk is full/);
    fireEvent.click(screen.getByRole("button", { name: "Try again" }));
    expect(onAgain).toHaveBeenCalledOnce();
  });

  test("the calendar has a row for each of six weeks and says the minutes", () => {
    render(<ProgressScreen {...nothing} progress={read(26)} />);
    expect(screen.getAllByRole("row")).toHaveLength(1 + 6);
    // [calc] two takes of 60 s a day.
    expect(screen.getAllByText("2 min")).toHaveLength(26);
    expect(minutesInWords(30_000)).toBe("< 1 min");
  });
});
