import { act, cleanup, fireEvent, render, screen } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import { asked, EVERYTHING } from "../../renderer/history/history-filter.ts";
import { HistoryScreen } from "../../renderer/history/history-screen.tsx";
import { PAGE_LINES } from "../../renderer/history/use-attempts.ts";
import { type HistoryLine, lineOf } from "../../renderer/store/history-entry.ts";
import type { AttemptFilter, Facets, HistoryStore, PageQuery } from "../../renderer/store/history-store.ts";
import { facetsOf, lineFits, newestFirst } from "../../renderer/store/line-order.ts";
import { exerciseOf } from "../support/drills.ts";
import { harp } from "../support/harps.ts";
import { newEntry, withId } from "./store-entries.ts";

afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

const onG = lineOf(withId(newEntry({ atEpochMs: Date.UTC(2026, 2, 29, 12), zone: "UTC" }), "on G"), 96_044);
const onD = lineOf(
  withId(
    newEntry({
      atEpochMs: Date.UTC(2026, 3, 2, 12),
      zone: "UTC",
      exercise: exerciseOf({ harp: harp("D"), position: 1, mode: "major" }),
    }),
    "on D",
  ),
);
const many = (count: number): readonly HistoryLine[] =>
  Array.from({ length: count }, (_, n) => ({
    ...onG,
    id: `${n}`,
    title: `Scale ${n}`,
    atEpochMs: onG.atEpochMs - n,
  }));

/** Looks among some lines as the history would, and remembers what it was asked. */
function searchAmong(lines: readonly HistoryLine[]) {
  const sorted = [...lines].sort(newestFirst);
  const fitting = (filter: AttemptFilter) => sorted.filter((line) => lineFits(filter, line));
  return {
    page: vi.fn(async ({ filter, before, limit }: PageQuery, _signal?: AbortSignal) => {
      const later = fitting(filter).filter((line) => before === null || newestFirst(before, line) < 0);
      return later.slice(0, limit);
    }),
    count: vi.fn(async (filter: AttemptFilter, _signal?: AbortSignal) => fitting(filter).length),
  };
}

const facets = (lines: readonly HistoryLine[]): Facets =>
  facetsOf(lines.map((line) => ({ ...line, attempts: 1 })));

function shown(
  lines: readonly HistoryLine[],
  search: Pick<HistoryStore, "page" | "count"> = searchAmong(lines),
) {
  const told = {
    onOpen: vi.fn(),
    onStar: vi.fn(),
    onDelete: vi.fn(),
    onUndo: vi.fn(),
  };
  const history = { kind: "read", facets: facets(lines) } as const;
  const view = render(
    <HistoryScreen history={history} search={search} version={1} deleted={null} {...told} />,
  );
  return { ...told, ...view };
}
const settled = () => act(async () => {});
const opens = () =>
  screen.getAllByRole("button", { name: /scale/i }).filter((one) => one.className === "open");

describe("the attempts that are looked for", () => {
  test("are asked for by what was filled in, a half-typed day left out", () => {
    expect(asked(EVERYTHING)).toEqual({});
    const filter = { ...EVERYTHING, title: " mixo ", harp: "G harp", position: "2", technique: "bend" };
    expect(asked({ ...filter, from: "2026-03-29", to: "2026-02-30", starred: true })).toEqual({
      title: "mixo",
      harp: "G harp",
      position: 2,
      technique: "bend",
      from: "2026-03-29",
      starred: true,
    });
  });

  test("stand there newest first, and a filter leaves those that fit", async () => {
    shown([onG, onD]);
    await settled();
    expect(screen.getByRole("status").textContent).toBe("2 attempts");
    expect(opens().map((one) => one.textContent)).toEqual([onD.title, onG.title]);
    fireEvent.change(screen.getByLabelText("Harp"), { target: { value: "G harp" } });
    await settled();
    expect(screen.getByRole("status").textContent).toBe("1 attempt");
    expect(opens().map((one) => one.textContent)).toEqual([onG.title]);
    fireEvent.change(screen.getByLabelText("Drill or tune"), { target: { value: "no such drill" } });
    await settled();
    expect(screen.getByText(/No attempt is like that/)).toBeTruthy();
    fireEvent.click(screen.getByRole("button", { name: "Show all" }));
    await settled();
    expect(screen.getByRole("status").textContent).toBe("2 attempts");
  });

  test("of thousands only a page is read and only those in sight stand there", async () => {
    const lines = many(5000);
    const search = searchAmong(lines);
    shown(lines, search);
    await settled();
    expect(screen.getByRole("status").textContent).toBe("5,000 attempts");
    expect(search.page.mock.calls.map(([{ limit }]) => limit)).toEqual([PAGE_LINES]);
    // [calc] 600 px high by 72 px a row is 9 rows, 10 more beyond, the headings and the space below.
    expect(screen.getAllByRole("row").length).toBeLessThanOrEqual(9 + 10 + 2);
    const box = document.querySelector(".history-rows");
    if (box === null) throw new Error("there is a box with the rows");
    // [calc] row 180 of the first 200.
    fireEvent.scroll(box, { target: { scrollTop: 180 * 72 } });
    await settled();
    expect(search.page.mock.lastCall?.[0]).toMatchObject({ before: { id: "199" } });
    expect(screen.getByRole("button", { name: "Scale 185" })).toBeTruthy();
  });

  test("that take long say so and can be given up: what was there before stays", async () => {
    const search = searchAmong([onG, onD]);
    shown([onG, onD], search);
    await settled();
    vi.useFakeTimers();
    search.page.mockImplementation(() => new Promise(() => {}));
    fireEvent.change(screen.getByLabelText("Harp"), { target: { value: "G harp" } });
    act(() => void vi.advanceTimersByTime(1000));
    expect(screen.getByRole("status").textContent).toBe("Looking …");
    const signals = [search.page.mock.lastCall?.[1], search.count.mock.lastCall?.[1]];
    expect(signals.map((signal) => signal?.aborted)).toEqual([false, false]);
    search.page.mockImplementation(async () => [onD, onG]);
    fireEvent.click(screen.getByRole("button", { name: "Stop" }));
    await settled();
    expect(signals.map((signal) => signal?.aborted)).toEqual([true, true]);
    expect((screen.getByLabelText("Harp") as HTMLSelectElement).value).toBe("");
    expect(screen.getByRole("status").textContent).toBe("2 attempts");
  });

  test("are no longer read for a question that another took the place of, or that was left", async () => {
    const search = searchAmong([onG, onD]);
    const { unmount } = shown([onG, onD], search);
    await settled();
    search.page.mockImplementation(() => new Promise(() => {}));
    const asked = ["G harp", "D harp"].map((harp) => {
      fireEvent.change(screen.getByLabelText("Harp"), { target: { value: harp } });
      return search.page.mock.lastCall?.[1];
    });
    expect(asked.map((signal) => signal?.aborted)).toEqual([true, false]);
    unmount();
    expect(asked.map((signal) => signal?.aborted)).toEqual([true, true]);
  });

  test("that cannot be read say why", async () => {
    const search = searchAmong([onG]);
    search.page.mockRejectedValue(new Error("the disk is full"));
    shown([onG], search);
    await settled();
    expect(screen.getByRole("alert").textContent).toBe("the disk is full");
    search.page.mockResolvedValue([onG]);
    fireEvent.click(screen.getByRole("button", { name: "Look again" }));
    await settled();
    expect(opens()).toHaveLength(1);
  });
});

describe("the list of attempts", () => {
  test("says what will be here, while it reads, and what is wrong", () => {
    const props = { search: searchAmong([]), version: 1, deleted: null };
    const nothing = { onOpen: () => {}, onStar: () => {}, onDelete: () => {}, onUndo: () => {} };
    const read = (history: Parameters<typeof HistoryScreen>[0]["history"]) => (
      <HistoryScreen {...props} {...nothing} history={history} />
    );
    const { rerender } = render(read({ kind: "read", facets: facets([]) }));
    expect(screen.getByText(/Every take you play or open is kept here/)).toBeTruthy();
    rerender(read({ kind: "loading" }));
    expect(screen.getByRole("status").textContent).toMatch(/Reading/);
    rerender(read({ kind: "trouble", words: "The disk is full." }));
    expect(screen.getByRole("alert").textContent).toBe("The disk is full.");
  });

  test("is walked with arrows and page keys, opened with Enter and left with Escape", async () => {
    const { onOpen } = shown(many(50));
    await settled();
    const [first, second] = opens();
    if (first === undefined || second === undefined) throw new Error("two lines");
    expect(document.activeElement).toBe(first);
    fireEvent.keyDown(first, { key: "ArrowDown" });
    expect(document.activeElement).toBe(second);
    fireEvent.keyDown(second, { key: "PageDown" });
    // [calc] 600 px hold 8 rows of 72 px: a page is 7 of them.
    expect(document.activeElement?.textContent).toBe("Scale 8");
    fireEvent.keyDown(document.activeElement ?? first, { key: "PageUp" });
    expect(document.activeElement).toBe(second);
    fireEvent.click(second);
    expect(onOpen).toHaveBeenCalledWith("1");
    fireEvent.keyDown(second, { key: "Escape" });
    expect(document.activeElement).toBe(screen.getByLabelText("Drill or tune"));
  });

  test("arrows stay in the column they are in, also where the next row is not in sight yet", async () => {
    shown(many(200));
    await settled();
    const [box] = screen.getAllByRole("checkbox", { name: "Choose Scale 0" });
    box?.focus();
    for (let page = 0; page < 6; page++)
      fireEvent.keyDown(document.activeElement ?? document.body, { key: "PageDown" });
    expect(document.activeElement).toBe(screen.getByRole("checkbox", { name: "Choose Scale 42" })); // [calc] 6 by 7
  });

  test("says of each take how much it needs, that it is gone, or that the attempt was made up", async () => {
    shown([onG, onD, { ...onD, id: "demo", demo: true }]);
    await settled();
    // [calc] 96,044 bytes are 96 kB.
    expect(screen.getByText(/take 96 kB/)).toBeTruthy();
    expect(screen.getByText(/take no longer kept/)).toBeTruthy();
    expect(screen.getByText(/made up, not yours/)).toBeTruthy();
  });

  test("gives a star and takes it again", async () => {
    const { onStar } = shown([onG, { ...onD, starred: true }]);
    await settled();
    fireEvent.click(screen.getByRole("button", { name: `Star: ${onG.title}` }));
    expect(onStar).toHaveBeenLastCalledWith("on G", true);
    const starred = screen.getByRole("button", { name: `Star: ${onD.title}` });
    expect(starred.getAttribute("aria-pressed")).toBe("true");
    fireEvent.click(starred);
    expect(onStar).toHaveBeenLastCalledWith("on D", false);
  });

  test("deletes one, or all that are ticked, and none that went out of sight", async () => {
    const { onDelete } = shown(many(5));
    await settled();
    fireEvent.click(screen.getByRole("button", { name: "Delete Scale 3" }));
    expect(onDelete).toHaveBeenLastCalledWith(["3"]);
    for (const n of [0, 2]) fireEvent.click(screen.getByRole("checkbox", { name: `Choose Scale ${n}` }));
    fireEvent.click(screen.getByRole("button", { name: "Delete 2 attempts" }));
    expect(onDelete).toHaveBeenLastCalledWith(["0", "2"]);
    expect(screen.queryByRole("button", { name: /^Delete \d/ })).toBeNull();
    fireEvent.click(screen.getByRole("checkbox", { name: "Choose Scale 4" }));
    fireEvent.change(screen.getByLabelText("Drill or tune"), { target: { value: "Scale 1" } });
    await settled();
    expect(screen.queryByRole("button", { name: /^Delete \d/ })).toBeNull();
  });

  test("the row in the place of a deleted one has the focus", async () => {
    const lines = many(5);
    const history = { kind: "read", facets: facets(lines) } as const;
    const told = { deleted: null, onOpen: () => {}, onStar: () => {}, onDelete: () => {}, onUndo: () => {} };
    const { rerender } = render(
      <HistoryScreen {...told} history={history} search={searchAmong(lines)} version={1} />,
    );
    await settled();
    screen.getByRole("button", { name: "Delete Scale 2" }).focus();
    const left = searchAmong(lines.filter(({ id }) => id !== "2"));
    rerender(<HistoryScreen {...told} history={history} search={left} version={2} />);
    await settled();
    expect(document.activeElement).toBe(screen.getByRole("button", { name: "Delete Scale 3" }));
    fireEvent.click(screen.getByRole("checkbox", { name: "Choose Scale 1" }));
    fireEvent.click(screen.getByRole("button", { name: "Delete 1 attempt" }));
    expect(document.activeElement).toBe(screen.getByRole("button", { name: "Scale 0" }));
  });
});
