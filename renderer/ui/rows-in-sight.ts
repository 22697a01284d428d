/** Rows drawn beyond what is seen, so that scrolling shows no gap. */
const BEYOND = 10;

/**
 * Which rows of a long list stand in the page.
 *
 * @returns `from` up to but not including `to`, both 0 to `count`
 */
export function rowsInSight(count: number, topPx: number, heightPx: number, rowPx: number) {
  const first = Math.floor(Math.max(0, topPx) / rowPx);
  const last = Math.ceil((Math.max(0, topPx) + heightPx) / rowPx);
  const from = Math.max(0, Math.min(count, first - BEYOND));
  return { from, to: Math.max(from, Math.min(count, last + BEYOND)) };
}
