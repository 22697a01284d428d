import type { PracticeDay } from "../practice-day.ts";

const MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];

/** "3 November", and "3 November 2025" where the year is not that of `today`. */
export function dayInWords(day: PracticeDay, today: PracticeDay): string {
  const [year, month, date] = day.split("-");
  const words = `${Number(date)} ${MONTHS[Number(month) - 1] ?? month}`;
  return today.startsWith(`${year}-`) ? words : `${words} ${year}`;
}

/** "1 day", "25 days". */
export const daysInWords = (days: number): string => `${days} ${days === 1 ? "day" : "days"}`;

/** "1 minute", "12 minutes". */
export const minutesInWords = (minutes: number): string =>
  `${minutes} ${minutes === 1 ? "minute" : "minutes"}`;
