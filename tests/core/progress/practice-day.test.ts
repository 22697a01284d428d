import { describe, expect, test } from "vitest";
import {
  dayNumber,
  daysAfter,
  daysFromTo,
  practiceDay,
  readPracticeDay,
} from "../../../core/progress/practice-day.ts";

const at = (iso: string) => Date.parse(iso);

describe("the day of practice", () => {
  // [calc] Local times by the offsets of the zones in the IANA time zone database: Dublin UTC+0 in winter, UTC+1 in summer;
  // New York UTC-5 / UTC-4; Kiritimati UTC+14; Kolkata UTC+5:30.
  test.each([
    ["an evening at home", "2026-01-15T20:00Z", "Europe/Dublin", "2026-01-15"],
    [
      "half past three after a dance belongs to the day before",
      "2026-01-16T03:30Z",
      "Europe/Dublin",
      "2026-01-15",
    ],
    ["the last instant before four", "2026-01-16T03:59:59.999Z", "Europe/Dublin", "2026-01-15"],
    ["four o'clock begins the day", "2026-01-16T04:00Z", "Europe/Dublin", "2026-01-16"],
    ["summer time: 03:30Z is half past four", "2026-07-16T03:30Z", "Europe/Dublin", "2026-07-16"],
    ["new year's night", "2027-01-01T02:00Z", "Europe/Dublin", "2026-12-31"],
    ["the night after a leap day", "2028-03-01T01:00Z", "Europe/Dublin", "2028-02-29"],
    ["the same instant in New York", "2026-01-16T04:00Z", "America/New_York", "2026-01-15"],
    ["far east of the date line", "2026-01-15T20:00Z", "Pacific/Kiritimati", "2026-01-16"],
    ["a zone with half an hour", "2026-01-15T22:29Z", "Asia/Kolkata", "2026-01-15"],
    ["and one minute later", "2026-01-15T22:30Z", "Asia/Kolkata", "2026-01-16"],
    ["a zone nobody knows counts as UTC", "2026-01-16T03:59Z", "Nowhere/At_All", "2026-01-15"],
  ])("%s", (_, iso, zone, day) => {
    expect(practiceDay(at(iso), zone)).toBe(day);
  });

  test("the night clocks go forward is one day: before and after the hour that is left out", () => {
    // [M] Directive 2000/84/EC: summer time begins at 01:00 UTC on the last Sunday of March, 2026-03-29.
    const dublin = (iso: string) => practiceDay(at(iso), "Europe/Dublin");
    expect(dublin("2026-03-29T00:59Z")).toBe("2026-03-28");
    expect(dublin("2026-03-29T01:01Z")).toBe("2026-03-28");
    // [calc] four o'clock summer time is 03:00Z.
    expect(dublin("2026-03-29T02:59Z")).toBe("2026-03-28");
    expect(dublin("2026-03-29T03:00Z")).toBe("2026-03-29");
  });

  test("the hour that comes twice in autumn does not begin a day twice", () => {
    // [M] the same: summer time ends at 01:00 UTC on the last Sunday of October, 2026-10-25. 00:30Z and 01:30Z are both 01:30.
    const dublin = (iso: string) => practiceDay(at(iso), "Europe/Dublin");
    expect(dublin("2026-10-25T00:30Z")).toBe("2026-10-24");
    expect(dublin("2026-10-25T01:30Z")).toBe("2026-10-24");
    expect(dublin("2026-10-25T03:59Z")).toBe("2026-10-24");
    expect(dublin("2026-10-25T04:00Z")).toBe("2026-10-25");
  });

  test("every instant of three years falls on the day of the wall clock four hours earlier, and days never go back", () => {
    // [X] the language's own calendar in UTC, where four hours earlier is plain subtraction.
    let before = -Infinity;
    const seen = new Set<string>();
    for (let ms = at("2026-01-01T00:00Z"); ms < at("2029-01-01T00:00Z"); ms += 3 * 3_600_000 + 1) {
      const day = practiceDay(ms, "UTC");
      expect(day).toBe(new Date(ms - 4 * 3_600_000).toISOString().slice(0, 10));
      const number = dayNumber(practiceDay(ms, "Europe/Dublin"));
      expect(number).toBeGreaterThanOrEqual(before);
      before = number;
      seen.add(day);
    }
    // [calc] 365 + 365 + 366 days, and the night of the first belongs to the one before.
    expect(seen.size).toBe(1097);
  });

  test("days are counted across months, years and leap days", () => {
    const day = practiceDay(at("2028-02-28T12:00Z"), "UTC");
    expect([daysAfter(day, 1), daysAfter(day, 2), daysAfter(day, -59)]).toEqual([
      "2028-02-29",
      "2028-03-01",
      "2027-12-31",
    ]);
    // [calc] 2028-02-28 is day 58 of the year (from 0); 2026-01-05 is 365 + 365 - 4 + 58 = 784 days before.
    expect(daysFromTo(practiceDay(at("2026-01-05T12:00Z"), "UTC"), day)).toBe(784);
  });

  test("only days of the calendar are read", () => {
    expect(readPracticeDay("2028-02-29")).toBe("2028-02-29");
    for (const none of ["2026-02-29", "2026-13-01", "2026-1-5", "today", ""])
      expect(readPracticeDay(none)).toBeNull();
  });

  test("a clock that shows nothing sensible loses no attempt", () => {
    expect(practiceDay(Number.NaN, "UTC")).toBe("1970-01-01");
    expect(readPracticeDay(practiceDay(-86_400_000, "UTC"))).toBe("1969-12-30");
  });
});
