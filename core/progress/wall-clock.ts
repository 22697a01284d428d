/** What the clock on the wall and the calendar beside it show. */
export interface WallClock {
  readonly year: number;
  /** 1 to 12. */
  readonly month: number;
  readonly date: number;
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
}

/** Where no instant is told: noon of the first of January 1970. */
const NO_INSTANT: WallClock = { year: 1970, month: 1, date: 1, hour: 12, minute: 0, second: 0 };
/** Beyond these milliseconds the calendar of the language itself ends. */
const CALENDAR_ENDS_MS = 8.64e15;

/**
 * The clock on the wall at an instant.
 *
 * @param atEpochMs milliseconds since 1970-01-01T00:00Z
 * @param zone      IANA name, "Europe/Dublin"; one that is not known counts as UTC, so that no attempt is lost for it
 */
export function wallClock(atEpochMs: number, zone: string): WallClock {
  if (!Number.isFinite(atEpochMs)) return NO_INSTANT;
  const within = Math.min(CALENDAR_ENDS_MS, Math.max(-CALENDAR_ENDS_MS, atEpochMs));
  const parts = formatterFor(zone).formatToParts(within);
  const part = (type: string) => Number(parts.find((one) => one.type === type)?.value ?? 0);
  return {
    year: part("year"),
    month: part("month"),
    date: part("day"),
    hour: part("hour"),
    minute: part("minute"),
    second: part("second"),
  };
}

/** "2026-09-21 15:13:20", as spreadsheets read it; of an instant and a zone as `wallClock` has them. */
export function wallTime(atEpochMs: number, zone: string): string {
  const { year, month, date, hour, minute, second } = wallClock(atEpochMs, zone);
  const two = (value: number) => String(value).padStart(2, "0");
  return `${String(year).padStart(4, "0")}-${two(month)}-${two(date)} ${two(hour)}:${two(minute)}:${two(second)}`;
}

/** Making a formatter is slow, and a history asks for one zone ten thousand times. */
const formatters = new Map<string, Intl.DateTimeFormat>();

function formatterFor(zone: string): Intl.DateTimeFormat {
  const known = formatters.get(zone);
  if (known !== undefined) return known;
  const made = makeFormatter(zone);
  formatters.set(zone, made);
  return made;
}

function makeFormatter(zone: string): Intl.DateTimeFormat {
  const day = { year: "numeric", month: "numeric", day: "numeric" } as const;
  const time = { hour: "numeric", minute: "numeric", second: "numeric", hourCycle: "h23" } as const;
  const options = { ...day, ...time, calendar: "iso8601", numberingSystem: "latn" } as const;
  try {
    return new Intl.DateTimeFormat("en", { ...options, timeZone: zone });
  } catch {
    return new Intl.DateTimeFormat("en", { ...options, timeZone: "UTC" });
  }
}
