import { describe, expect, test, vi } from "vitest";
import { LiveTrace } from "../../../renderer/practice/live-trace.ts";

const point = (index: number, share: number) => ({ index, share, cents: 3, beyond: false });

describe("the pitch heard while playing", () => {
  test("changes the box of its own note alone", () => {
    const trace = new LiveTrace();
    const told = vi.fn();
    trace.subscribe(told);
    trace.add(point(0, 0.2));
    const [first, second] = [trace.of(0), trace.of(1)];
    trace.add(point(1, 0.1));
    expect(trace.of(0)).toBe(first);
    expect(trace.of(1)).not.toBe(second);
    trace.add(point(0, 0.3));
    expect(trace.of(0)).toEqual([point(0, 0.2), point(0, 0.3)]);
    expect(told).toHaveBeenCalledTimes(3);
  });

  test("is gone before the next take", () => {
    const trace = new LiveTrace();
    trace.add(point(4, 0.5));
    trace.clear();
    expect(trace.of(4)).toEqual([]);
  });
});
