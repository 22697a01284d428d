const formatters = new Map<string, Intl.DateTimeFormat>();

/** Making one is slow, and a history asks for the same zone ten thousand times. */
function formatterFor(zone: string): Intl.DateTimeFormat {
  const known = formatters.get(zone);
  if (known !== undefined) return known;
  const made = makeFormatter(zone);
  formatters.set(zone, made);
  return made;
}

function makeFormatter(zone: string): Intl.DateTimeFormat {
  const two = "2-digit" as const;
  const options = {
    year: "numeric",
    month: two,
    day: two,
    hour: two,
    minute: two,
    second: two,
    hourCycle: "h23",
    calendar: "iso8601",
    numberingSystem: "latn",
  } as const;
  try {
    return new Intl.DateTimeFormat("en", { ...options, timeZone: zone });
  } catch {
    return new Intl.DateTimeFormat("en", { ...options, timeZone: "UTC" });
  }
}

/**
 * What the clock on the wall showed, "2026-09-21 15:13:20", as spreadsheets read it.
 *
 * @param atEpochMs milliseconds since 1970-01-01T00:00Z
 * @param zone      IANA name; one that is not known counts as UTC, as for the day of practice
 */
export function wallTime(atEpochMs: number, zone: string): string {
  const parts = formatterFor(zone).formatToParts(atEpochMs);
  const part = (type: string) => parts.find((one) => one.type === type)?.value ?? "";
  return `${part("year")}-${part("month")}-${part("day")} ${part("hour")}:${part("minute")}:${part("second")}`;
}
