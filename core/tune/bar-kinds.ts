import type { Metre } from "./tune.ts";
import { type BarKind, metreTicks } from "./written-bar.ts";

/** A bar as played, as far as its kind depends on it. */
export interface BarShape {
  readonly lengthTicks: number;
  readonly metre: Metre | null;
  readonly strain: string;
  /** A double bar line or a repeat ends it. */
  readonly edge: boolean;
}

/**
 * Tells upbeats and short ends from bars that are merely wrong. An upbeat is a short bar at the beginning of a strain, or
 * after an edge; the bar that ends short by the same, before an edge or at the end, is its counterpart.
 */
export function barKinds(bars: readonly BarShape[]): readonly BarKind[] {
  const upbeats = new Set<number>();
  return bars.map((bar, index) => {
    const before = bars[index - 1];
    const after = bars[index + 1];
    const begins = before === undefined || before.edge || before.strain !== bar.strain;
    if (begins) upbeats.add(bar.lengthTicks);
    const missing = bar.metre === null ? 0 : metreTicks(bar.metre) - bar.lengthTicks;
    if (missing === 0) return "whole";
    if (missing < 0) return "irregular";
    // What is left at the very end is no upbeat to anything.
    if (begins && (index === 0 || after !== undefined)) return "pick-up";
    const ends = after === undefined || bar.edge || after.strain !== bar.strain;
    const completed = after?.lengthTicks === missing || upbeats.has(missing);
    return ends && completed ? "short end" : "irregular";
  });
}
