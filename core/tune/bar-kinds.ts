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
  return bars.map((bar, index) => {
    if (bar.metre === null) return "whole";
    const whole = metreTicks(bar.metre);
    if (bar.lengthTicks === whole) return "whole";
    if (bar.lengthTicks > whole) return "irregular";
    const before = bars[index - 1];
    const after = bars[index + 1];
    const begins = before === undefined || before.edge || before.strain !== bar.strain;
    const ends = after === undefined || bar.edge || after.strain !== bar.strain;
    if (begins && !(ends && endsWithUpbeatBefore(bars, index))) return "pick-up";
    if (ends && completesAnUpbeat(bars, index, whole)) return "short end";
    return "irregular";
  });
}

/** A strain of one short bar is an end only if an upbeat stands before it. */
function endsWithUpbeatBefore(bars: readonly BarShape[], index: number): boolean {
  return index > 0 && index === bars.length - 1;
}

/** Whether an upbeat, of this strain or of what follows, makes the short end a whole bar. */
function completesAnUpbeat(bars: readonly BarShape[], index: number, whole: number): boolean {
  const bar = bars[index];
  if (bar === undefined) return false;
  const missing = whole - bar.lengthTicks;
  const after = bars[index + 1];
  if (after !== undefined && after.lengthTicks === missing) return true;
  for (let at = index - 1; at >= 0; at--) {
    const before = bars[at - 1];
    const begins = before === undefined || before.edge || before.strain !== bars[at]?.strain;
    if (begins && bars[at]?.lengthTicks === missing) return true;
  }
  return false;
}
