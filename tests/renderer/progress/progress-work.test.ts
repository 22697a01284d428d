import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import type { ProgressQuestion, ProgressReport } from "../../../renderer/app/progress-report.ts";
import { createProgressWork, type Outcome } from "../../../renderer/app/progress-work.ts";

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

/** A worker that answers when it is told to, and a history that changes when it is told to. */
function doubles() {
  const posted: ProgressQuestion[] = [];
  const workers: {
    terminated: boolean;
    onmessage: ((event: MessageEvent<ProgressReport>) => void) | null;
  }[] = [];
  const listeners: (() => void)[] = [];
  const work = createProgressWork(
    (listener) => {
      listeners.push(listener);
      return () => {};
    },
    () => {
      const worker = {
        terminated: false,
        onmessage: null,
        onerror: null,
        postMessage: (question: ProgressQuestion) => void posted.push(question),
        terminate() {
          worker.terminated = true;
        },
      };
      workers.push(worker);
      return worker as unknown as Worker;
    },
  );
  const answer = (place: number) => {
    const { number } = posted[place] as ProgressQuestion;
    const data: ProgressReport = { number, kind: "answer", answer: { days: [] } };
    workers.at(-1)?.onmessage?.({ data } as MessageEvent<ProgressReport>);
  };
  return { work, posted, workers, answer, change: () => listeners.forEach((tell) => void tell()) };
}

const READ: Outcome<"minutes"> = { kind: "read", answer: { days: [] } };

describe("what the history was asked", () => {
  test("is known until the history changes", () => {
    const { work, answer, change } = doubles();
    expect(work.known("minutes", null)).toBeNull();
    work.ask("minutes", null, () => {});
    expect(work.known("minutes", null)).toBeNull();
    answer(0);
    expect(work.known("minutes", null)).toEqual(READ);
    expect(work.known("weak spots", { weeks: 8, harp: null })).toBeNull();
    change();
    expect(work.known("minutes", null)).toBeNull();
  });

  test("an answer about the history before a change is told, not kept", () => {
    const { work, answer, change } = doubles();
    const told: unknown[] = [];
    work.ask("minutes", null, (outcome) => told.push(outcome));
    change();
    answer(0);
    expect(told).toEqual([READ]);
    expect(work.known("minutes", null)).toBeNull();
  });

  test("is asked once by however many wait for it, and anew after a change", () => {
    const { work, posted, answer, change } = doubles();
    const told: string[] = [];
    work.ask("minutes", null, () => told.push("one"));
    work.ask("minutes", null, () => told.push("other"));
    expect(posted).toHaveLength(1);
    change();
    work.ask("minutes", null, () => told.push("later"));
    expect(posted).toHaveLength(2);
    answer(0);
    expect(told).toEqual(["one", "other"]);
    answer(1);
    expect(told).toEqual(["one", "other", "later"]);
  });

  test("is given up only when nobody waits any more", () => {
    const { work, workers, posted } = doubles();
    const stopOne = work.ask("minutes", null, () => {});
    const stopOther = work.ask("minutes", null, () => {});
    stopOne();
    vi.advanceTimersByTime(1000);
    expect(workers[0]?.terminated).toBe(false);
    stopOther();
    vi.advanceTimersByTime(1000);
    expect(workers[0]?.terminated).toBe(true);
    work.ask("minutes", null, () => {});
    expect(workers).toHaveLength(2);
    expect(posted).toHaveLength(2);
  });

  test("goes on where one leaves and another asks the same at once", () => {
    const { work, workers, posted, answer } = doubles();
    work.ask("minutes", null, () => {})();
    const told: unknown[] = [];
    work.ask("minutes", null, (outcome) => told.push(outcome));
    vi.advanceTimersByTime(1000);
    expect([workers.length, workers[0]?.terminated, posted.length]).toEqual([1, false, 1]);
    answer(0);
    expect(told).toEqual([READ]);
  });
});
