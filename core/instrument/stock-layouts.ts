import { type Layout, layoutFromRows } from "./layout.ts";

/**
 * The layout ten-hole diatonic harmonicas are sold in.
 * Source: OEIS A291810 (semitones of 1 blow, 1 draw, 2 blow, 2 draw …); encyclopedia article "Richter tuning".
 */
export const STANDARD_LAYOUT: Layout = layoutFromRows("standard", "standard", {
  blow: [0, 4, 7, 12, 16, 19, 24, 28, 31, 36],
  draw: [2, 7, 11, 14, 17, 21, 23, 26, 29, 33],
});

export const STOCK_LAYOUTS: readonly Layout[] = [STANDARD_LAYOUT];

/** The stock layout with this id, or null. */
export function stockLayout(id: string): Layout | null {
  return STOCK_LAYOUTS.find((layout) => layout.id === id) ?? null;
}
