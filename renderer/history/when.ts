import type { HistoryLine } from "../store/history-store.ts";

/** Making a formatter is slow, and a list shows dozens of rows. */
const formatters = new Map<string, Intl.DateTimeFormat>();

/** Day and time on the clock where it was played. */
export function whenInWords({ atEpochMs, zone }: Pick<HistoryLine, "atEpochMs" | "zone">): string {
  const known = formatters.get(zone) ?? formatterFor(zone);
  formatters.set(zone, known);
  return known.format(atEpochMs);
}

function formatterFor(zone: string): Intl.DateTimeFormat {
  const style = { dateStyle: "medium", timeStyle: "short" } as const;
  try {
    return new Intl.DateTimeFormat(undefined, { ...style, timeZone: zone });
  } catch {
    // A zone this system does not know: the clock here is better than none.
    return new Intl.DateTimeFormat(undefined, style);
  }
}
