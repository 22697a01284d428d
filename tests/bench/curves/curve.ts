import { median } from "../../../core/listen/median.ts";
import { theilSen } from "../../../core/progress/statistics/theil-sen.ts";

/** How long a work takes at three sizes, the base, ten times and a hundred times as much. */
export interface Curve {
  readonly work: string;
  /** What the size counts. */
  readonly of: string;
  readonly sizes: readonly number[];
  /** Medians at each size. */
  readonly seconds: readonly number[];
  /** Whether the seconds are the processor's, which other work on the machine does not touch, or the clock's. */
  readonly clock: "processor" | "clock";
}

export const TIMES = [1, 10, 100] as const;

/**
 * The power of the size that the seconds grow by: slope of their logarithms over those of the sizes, by Theil and Sen.
 *
 * @returns null where a time is too short to have a logarithm
 */
export function exponentOf({ sizes, seconds }: Pick<Curve, "sizes" | "seconds">): number | null {
  const rows = sizes.map((size, at) => ({
    row: "curve",
    x: Math.log(size),
    y: Math.log(seconds[at] ?? 0),
    weight: 1,
  }));
  return rows.every(({ y }) => Number.isFinite(y)) ? (theilSen(rows)?.slope ?? null) : null;
}

/** Short works are repeated until so much time has gone by, and the median taken. */
const LEAST_SECONDS = 0.4;
const MOST_REPEATS = 15;

/** Seconds of the processor that a work takes. */
export function secondsOf(work: () => unknown): number {
  const taken: number[] = [];
  let all = 0;
  while (taken.length === 0 || (all < LEAST_SECONDS && taken.length < MOST_REPEATS)) {
    const start = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(start);
    const seconds = (user + system) / 1e6;
    taken.push(seconds);
    all += seconds;
  }
  return median(Float64Array.from(taken).sort());
}

/** A curve of a work of the processor. @param prepare makes what the work needs, which is not counted */
export function curveOf<T>(
  { work, of, base }: { readonly work: string; readonly of: string; readonly base: number },
  prepare: (size: number) => T,
  run: (prepared: T) => unknown,
): Curve {
  const sizes = TIMES.map((times) => base * times);
  const seconds = sizes.map((size) => {
    const prepared = prepare(size);
    // The first runs are the compiler's.
    if (size === base) for (let time = 0; time < 3; time++) run(prepared);
    return secondsOf(() => run(prepared));
  });
  return { work, of, sizes, seconds, clock: "processor" };
}
