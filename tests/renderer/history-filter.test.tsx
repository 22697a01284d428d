import { cleanup, fireEvent, render, screen } from "@testing-library/react";
import { afterEach, describe, expect, test } from "vitest";
import { EVERYTHING, filtered, harpAndPosition } from "../../renderer/history/history-filter.ts";
import { HistoryScreen } from "../../renderer/history/history-screen.tsx";
import { lineOf } from "../../renderer/store/history-store.ts";
import { exerciseOf } from "../support/drills.ts";
import { harp } from "../support/harps.ts";
import { newEntry, withId } from "./store-entries.ts";

afterEach(cleanup);

const onG = lineOf(withId(newEntry({ atEpochMs: new Date("2026-03-29T12:00").getTime() }), "on G"));
const onD = lineOf(
  withId(
    newEntry({
      atEpochMs: new Date("2026-04-02T12:00").getTime(),
      exercise: exerciseOf({ harp: harp("D"), position: 1, mode: "major" }),
    }),
    "on D",
  ),
);
const lines = [onD, onG];
const ids = (
  filter: Partial<typeof EVERYTHING>,
  techniques: ReadonlyMap<string, readonly string[]> | null = null,
) => filtered(lines, { ...EVERYTHING, ...filter }, techniques).map(({ id }) => id);

describe("the attempts that are looked for", () => {
  test("are found by harp, position, letters of the title, technique and day, both days included", () => {
    expect(ids({})).toEqual(["on D", "on G"]);
    const { harp: nameOfG, position } = harpAndPosition(onG);
    expect(ids({ harp: nameOfG })).toEqual(["on G"]);
    expect(ids({ position })).toEqual(["on G"]);
    expect(ids({ title: "MIXO" })).toEqual(["on G"]);
    expect(ids({ technique: "bend" }, new Map([["on D", ["plain", "bend"]]]))).toEqual(["on D"]);
    expect(ids({ from: "2026-03-30" })).toEqual(["on D"]);
    expect(ids({ from: "2026-03-29", to: "2026-03-29" })).toEqual(["on G"]);
  });

  test("of thousands only those in sight stand in the page, and where none fits that is said", () => {
    const many = Array.from({ length: 5000 }, (_, n) => ({ ...onG, id: `${n}` }));
    const nothing = { deleted: null, onOpen: () => {}, onDelete: () => {}, onUndo: () => {} };
    render(<HistoryScreen {...nothing} list={{ kind: "lines", lines: many }} />);
    expect(screen.getByRole("status").textContent).toBe("5000 attempts");
    // [calc] 600 px high by 72 px a row is 9 rows, 10 more beyond, the headings and the space below.
    expect(screen.getAllByRole("row").length).toBeLessThanOrEqual(9 + 10 + 2);
    fireEvent.change(screen.getByLabelText("Drill or tune"), { target: { value: "no such drill" } });
    expect(screen.getByText(/No attempt is like that/)).toBeTruthy();
    fireEvent.click(screen.getByRole("button", { name: "Show all" }));
    expect(screen.getByRole("status").textContent).toBe("5000 attempts");
  });
});
