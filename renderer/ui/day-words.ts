import type { PracticeDay } from "../../core/progress/practice-day.ts";

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"] as const;

/** "5 Oct" */
export function shortDay(day: PracticeDay): string {
  const [, month, date] = day.split("-").map(Number);
  return `${date} ${MONTHS[(month ?? 1) - 1]}`;
}

/** "5 Oct 2026" */
export const longDay = (day: PracticeDay): string => `${shortDay(day)} ${day.slice(0, 4)}`;
