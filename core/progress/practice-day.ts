import { wallClock } from "./wall-clock.ts";

/** A day of practice, "2026-03-29": a calendar day in the player's zone that begins at four in the morning. */
declare const practiceDayTag: unique symbol;
export type PracticeDay = string & { readonly [practiceDayTag]: "PracticeDay" };

/** Who plays past midnight after a dance still practises on the same day. Common practice, no source. */
export const DAY_BEGINS_AT_HOUR = 4;

/**
 * The day of practice an instant falls on. Told from the clock on the wall, so that days on which clocks are changed are one
 * day each; the hour that comes twice in autumn and the one left out in spring lie before or after the boundary as a whole
 * wherever clocks change before four.
 *
 * @param atEpochMs milliseconds since 1970-01-01T00:00Z
 * @param zone      IANA name, "Europe/Dublin"; one that is not known counts as UTC, so that no attempt is lost for it
 */
export function practiceDay(atEpochMs: number, zone: string): PracticeDay {
  const { year, month, date, hour } = wallClock(atEpochMs, zone);
  const day = daysFromCivil(year, month, date);
  return dayOfNumber(hour < DAY_BEGINS_AT_HOUR ? day - 1 : day);
}

/** Whole days since 1970-01-01: 0 for that day. */
export function dayNumber(day: PracticeDay): number {
  const [year = 1970, month = 1, date = 1] = day.split("-").map(Number);
  return daysFromCivil(year, month, date);
}

/** The day so many days after another; negative is before. */
export const daysAfter = (day: PracticeDay, days: number): PracticeDay => dayOfNumber(dayNumber(day) + days);

/** Days from one day to another; negative if that lies before. */
export const daysFromTo = (from: PracticeDay, to: PracticeDay): number => dayNumber(to) - dayNumber(from);

/** Reads "2026-03-29"; null if the text is no day of the calendar. */
export function readPracticeDay(text: string): PracticeDay | null {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (match === null) return null;
  const day = text as PracticeDay;
  // The thirtieth of February would come back as the second of March.
  return dayOfNumber(dayNumber(day)) === day ? day : null;
}

/** The day with a number as `dayNumber` gives it. */
export function dayOfNumber(number: number): PracticeDay {
  const { year, month, date } = civilFromDays(number);
  const two = (value: number) => String(value).padStart(2, "0");
  return `${String(year).padStart(4, "0")}-${two(month)}-${two(date)}` as PracticeDay;
}

/** H. Hinnant, "chrono-Compatible Low-Level Date Algorithms", days_from_civil. */
function daysFromCivil(year: number, month: number, date: number): number {
  const shifted = month <= 2 ? year - 1 : year;
  const era = Math.floor(shifted / 400);
  const yearOfEra = shifted - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + date - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * 146_097 + dayOfEra - 719_468;
}

/** The same, civil_from_days. */
function civilFromDays(days: number) {
  const shifted = Math.floor(days) + 719_468;
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - era * 146_097;
  const leaps = Math.floor(dayOfEra / 1460) - Math.floor(dayOfEra / 36_524) + Math.floor(dayOfEra / 146_096);
  const yearOfEra = Math.floor((dayOfEra - leaps) / 365);
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const shiftedMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const month = shiftedMonth < 10 ? shiftedMonth + 3 : shiftedMonth - 9;
  const date = dayOfYear - Math.floor((153 * shiftedMonth + 2) / 5) + 1;
  return { year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0), month, date };
}
