import { dayNumber, dayOfNumber, type PracticeDay } from "../../../core/progress/practice-day.ts";
import { longDay, shortDay } from "../../ui/day-words.ts";

/** "5 Oct to 7 Nov 2026"; years on both sides where they differ. */
export function daysInWords(from: PracticeDay, to: PracticeDay): string {
  if (from === to) return longDay(to);
  return `${from.slice(0, 4) === to.slice(0, 4) ? shortDay(from) : longDay(from)} to ${longDay(to)}`;
}

const STEPS = [1, 2, 7, 14, 28, 56, 91, 182, 364, 728, 1820, 3640];

/** At most so many days between two, ends included, evenly apart, to be written under a picture. */
export function dayTicks(from: PracticeDay, to: PracticeDay, most: number): readonly PracticeDay[] {
  const [first, last] = [dayNumber(from), dayNumber(to)];
  const step = STEPS.find((days) => (last - first) / days < most) ?? last - first + 1;
  const count = Math.floor((last - first) / step) + 1;
  return Array.from({ length: count }, (_, place) => dayOfNumber(first + place * step));
}
