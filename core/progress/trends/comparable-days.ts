import type { PracticeDay } from "../practice-day.ts";
import type { RowValue } from "../statistics/like-pairs.ts";
import type { DayValue } from "./day-values.ts";

/** More days are joined with their neighbours before they are compared, as comparisons grow with the square of them. */
const MOST_PLACES = 40;

/** Values of rows that have more than one day, and those days, oldest first. */
export interface Comparable {
  readonly values: readonly DayValue[];
  readonly days: readonly PracticeDay[];
}

export function comparable(values: readonly DayValue[]): Comparable {
  const times = new Map<string, number>();
  for (const { row } of values) times.set(row, (times.get(row) ?? 0) + 1);
  const kept = values.filter(({ row }) => (times.get(row) ?? 0) > 1);
  return { values: kept, days: daysOf(kept) };
}

/** Days that have a value, oldest first. */
export const daysOf = (values: readonly DayValue[]) => [...new Set(values.map(({ day }) => day))].sort();

/**
 * Values at the number of their session, neighbours joined where there are too many.
 *
 * @param days all sessions, oldest first; holds every day of the values
 */
export function placed(values: readonly DayValue[], days: readonly PracticeDay[]): readonly RowValue[] {
  const blocks = Math.min(days.length, MOST_PLACES);
  const blockOf = new Map(days.map((day, session) => [day, Math.floor((session * blocks) / days.length)]));
  const middles = Array.from({ length: blocks }, (_, block) => {
    const first = Math.ceil((block * days.length) / blocks);
    const last = Math.ceil(((block + 1) * days.length) / blocks) - 1;
    return (first + last) / 2;
  });
  const joined = new Map<string, { row: string; x: number; sum: number; weight: number }>();
  for (const { day, row, y, notes } of values) {
    const block = blockOf.get(day) ?? 0;
    const key = `${block} ${row}`;
    const known = joined.get(key) ?? { row, x: middles[block] ?? 0, sum: 0, weight: 0 };
    known.sum += notes * y;
    known.weight += notes;
    joined.set(key, known);
  }
  return [...joined.values()].map(({ row, x, sum, weight }) => ({ row, x, y: sum / weight, weight }));
}
