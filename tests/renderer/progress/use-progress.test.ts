import { act, cleanup, renderHook } from "@testing-library/react";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import type { Outcome, ProgressWork } from "../../../renderer/app/progress-work.ts";
import { useProgress } from "../../../renderer/app/use-progress.ts";

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

/** A worker that answers when it is told to. */
function slowWork() {
  const asked: { readonly answer: (outcome: Outcome<"minutes">) => void; ended: boolean }[] = [];
  const work: ProgressWork = {
    ask(_kind, _ask, onOutcome) {
      const question = { answer: onOutcome as (outcome: Outcome<"minutes">) => void, ended: false };
      asked.push(question);
      return () => {
        question.ended = true;
      };
    },
    known: () => null,
  };
  return { work, asked };
}
const NONE: Outcome<"minutes"> = { kind: "read", answer: { days: [] } };

describe("an answer of the history", () => {
  test("that is known stands there at once, and nothing is asked", () => {
    const { work, asked } = slowWork();
    const { result } = renderHook(() =>
      useProgress({ ...work, known: () => NONE as never }, "minutes", null, 1),
    );
    expect(result.current.read).toEqual(NONE);
    expect(asked).toEqual([]);
  });

  test("is being read until it comes, and asked again when the history changes", () => {
    const { work, asked } = slowWork();
    const { result, rerender } = renderHook(({ version }) => useProgress(work, "minutes", null, version), {
      initialProps: { version: 1 },
    });
    expect(result.current.read.kind).toBe("reading");
    act(() => asked[0]?.answer(NONE));
    expect(result.current.read).toEqual(NONE);
    rerender({ version: 2 });
    expect(asked).toHaveLength(2);
    expect(asked[0]?.ended).toBe(true);
    // What was told before stays for a moment, so that a quick answer does not flicker.
    expect(result.current.read).toEqual(NONE);
    act(() => vi.advanceTimersByTime(1000));
    expect(result.current.read.kind).toBe("reading");
    act(() => asked[1]?.answer(NONE));
    expect(result.current.read).toEqual(NONE);
  });

  test("can be stopped and asked for again; trouble is told in a sentence", () => {
    const { work, asked } = slowWork();
    const { result } = renderHook(() => useProgress(work, "minutes", null, 1));
    act(() => result.current.stop());
    expect(asked[0]?.ended).toBe(true);
    expect(result.current.read).toMatchObject({
      kind: "trouble",
      words: expect.stringMatching(/^Stopped\./),
    });
    act(() => result.current.again());
    expect(result.current.read.kind).toBe("reading");
    act(() => asked[1]?.answer({ kind: "trouble", words: "the disk is full" }));
    expect(result.current.read).toEqual({
      kind: "trouble",
      words: "The history could not be gone through: the disk is full.",
    });
  });

  test("ends with its screen", () => {
    const { work, asked } = slowWork();
    renderHook(() => useProgress(work, "minutes", null, 1)).unmount();
    expect(asked.map(({ ended }) => ended)).toEqual([true]);
  });
});
