import { cleanup, render, screen } from "@testing-library/react";
import { afterEach, expect, test, vi } from "vitest";
import { staffLines } from "../../core/exercise/exercise-abc.ts";
import { evenSpans, Staff } from "../../renderer/ui/staff.tsx";
import { prepareStaff } from "../../renderer/ui/staff-drawings.ts";
import { exerciseOf } from "../support/drills.ts";

const failing = vi.hoisted(() => ({ asked: 0 }));

vi.mock(import("../../renderer/ui/draw-abc.ts"), async (original) => ({
  ...(await original()),
  drawAbc: async () => {
    failing.asked++;
    throw new Error("the drawing gave up");
  },
}));

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

const [line] = staffLines(exerciseOf(), 2);
if (line === undefined) throw new Error("an exercise has a line");

test("a line that cannot be drawn says why, and its tab stands in equal places", async () => {
  const spans = vi.fn();
  render(<Staff line={line} width={800} label="Notes 1 to 8" now={null} onSpans={spans} />);
  expect((await screen.findByRole("alert")).textContent).toBe(
    "This music cannot be drawn: the drawing gave up. The tab holds.",
  );
  expect(spans).toHaveBeenCalledWith(evenSpans(800, line.to - line.from));
});

test("one line that fails does not keep the others from being drawn ahead", async () => {
  vi.stubGlobal("requestIdleCallback", (next: () => void) => setTimeout(next, 0));
  vi.stubGlobal("cancelIdleCallback", clearTimeout);
  const before = failing.asked;
  const end = prepareStaff([`${line.abc} % one`, `${line.abc} % two`], { width: 801, textScale: 1 });
  await vi.waitFor(() => expect(failing.asked).toBe(before + 2));
  end();
});
