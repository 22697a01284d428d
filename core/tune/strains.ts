import { metreTicks, type WrittenBar } from "./written-bar.ts";

/**
 * The strain each written bar belongs to: the label of its part where parts are marked, else "A", "B" ... from double bar
 * lines and repeats. Endings belong to the strain they end, an upbeat to the strain it leads into.
 */
export function strainsOf(bars: readonly WrittenBar[]): readonly string[] {
  return bars.some((bar) => bar.part !== null) ? strainsOfParts(bars) : strainsOfEdges(bars);
}

function strainsOfParts(bars: readonly WrittenBar[]): readonly string[] {
  const first = bars.findIndex((bar) => bar.part !== null);
  let label = isUpbeat(bars.slice(0, first)) ? (bars[first]?.part ?? "") : "";
  return bars.map((bar) => {
    label = bar.part ?? label;
    return label;
  });
}

function strainsOfEdges(bars: readonly WrittenBar[]): readonly string[] {
  const starts = [0];
  for (let at = 1; at < bars.length; at++) {
    if (isEdge(bars[at - 1], bars[at]) && !isUpbeat(bars.slice(starts.at(-1), at))) starts.push(at);
  }
  let strain = -1;
  return bars.map((_, index) => {
    if (starts[strain + 1] === index) strain++;
    return nameOf(strain);
  });
}

/** A second ending follows its first after a repeat sign without beginning anything new. */
function isEdge(before: WrittenBar | undefined, bar: WrittenBar | undefined): boolean {
  if (before === undefined || bar === undefined || bar.ending !== null) return false;
  return before.doubleBar || before.repeatTo > 0 || bar.repeatFrom > 0;
}

/** Nothing but less than a bar. */
function isUpbeat(bars: readonly WrittenBar[]): boolean {
  const metre = bars[0]?.metre ?? null;
  const length = bars.reduce((sum, bar) => sum + bar.lengthTicks, 0);
  return metre !== null && length < metreTicks(metre);
}

/** "A" ... "Z", then "AA" ... */
function nameOf(strain: number): string {
  const letter = String.fromCharCode(65 + (strain % 26));
  return strain < 26 ? letter : nameOf(Math.floor(strain / 26) - 1) + letter;
}
