import { cleanup, fireEvent, render, screen, within } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import type { Exercise } from "../../../core/exercise/exercise.ts";
import type { Read, WeakSpotsAnswer } from "../../../renderer/progress/progress-view.ts";
import { WeakSpotsPart } from "../../../renderer/progress/weak-spots-part.tsx";
import { USUAL_WRITING, WritingContext, writingOf } from "../../../renderer/ui/writing.ts";
import { thirtyDays } from "../../support/thirty-days.ts";
import { asking } from "./kept-days.ts";

afterEach(cleanup);

const ASK = { weeks: 8, harp: null } as const;
const entries = thirtyDays(5);
const nothing = { ask: ASK, onAsk: () => {}, onStop: () => {}, onAgain: () => {}, onPractise: () => {} };

async function readOf(days: number): Promise<Read<WeakSpotsAnswer>> {
  return { kind: "read", answer: await asking(entries.slice(0, 2 * days))("weak spots", ASK) };
}
const rowsOf = (table: HTMLElement) => within(table).getAllByRole("row");

describe("weak spots", () => {
  test("say what will be here while nothing was played", async () => {
    render(<WeakSpotsPart {...nothing} read={await readOf(0)} />);
    expect(screen.getByText(/Once something was played, the harp stands here/)).toBeTruthy();
  });

  test("the bends this player misses are listed, with a drill at one press", async () => {
    const onPractise = vi.fn<(exercise: Exercise) => void>();
    render(<WeakSpotsPart {...nothing} onPractise={onPractise} read={await readOf(26)} />);
    const spots = within(screen.getByRole("list")).getAllByRole("listitem");
    // Every third bend is missed by this player, and nothing else.
    expect(spots.length).toBeGreaterThanOrEqual(1);
    expect(spots[0]?.textContent).toMatch(/'.*\d+ of \d+ notes in trouble/);
    fireEvent.click(within(spots[0] as HTMLElement).getByRole("button"));
    expect(onPractise).toHaveBeenCalledOnce();
    expect(["bend", "breath-pair"]).toContain(onPractise.mock.calls[0]?.[0].kind);
  });

  test("every reed action and pair is in a picture and in a table", async () => {
    const read = await readOf(26);
    render(<WeakSpotsPart {...nothing} read={read} />);
    expect(screen.getByRole("img", { name: /^Intonation of each reed action: G harp/ })).toBeTruthy();
    expect(screen.getByRole("img", { name: /^From one note to the next: G harp/ })).toBeTruthy();
    if (read.kind !== "read" || read.answer.days === null || read.answer.shown === null)
      throw new Error("there are thirty days");
    const { reeds, pairs } = read.answer.shown;
    expect(reeds.length).toBeGreaterThan(5);
    const [harp, matrix] = screen.getAllByRole("table");
    expect(rowsOf(harp as HTMLElement)).toHaveLength(reeds.length + 1);
    expect(rowsOf(matrix as HTMLElement)).toHaveLength(pairs.length + 1);
    expect(screen.getAllByText(/^Worst: from .* % of \d+ notes in trouble/).length).toBeGreaterThan(0);
    fireEvent.click(screen.getByRole("radio", { name: /how many of the notes were right/ }));
    expect(screen.getByRole("img", { name: /^Notes right of each reed action/ })).toBeTruthy();
    expect(screen.getAllByText(/^Least often right: /).length).toBeGreaterThan(0);
  });

  test("reed actions are written as the player writes them", async () => {
    const writing = writingOf({ ...USUAL_WRITING, tabForm: "arrows" });
    render(
      <WritingContext.Provider value={writing}>
        <WeakSpotsPart {...nothing} read={await readOf(26)} />
      </WritingContext.Provider>,
    );
    expect(screen.getByRole("list").textContent).toMatch(/\d↓'+/);
    expect(screen.getByRole("list").textContent).not.toMatch(/-\d/);
  });
});
