import type { PracticeDay } from "../practice-day.ts";
import { wilsonInterval } from "../statistics/wilson.ts";
import type { DayValue, ValueScale } from "./day-values.ts";
import type { LineKind, TrendPoint } from "./trend.ts";

/** How a line is told. */
export interface LineRule {
  readonly kind: LineKind;
  readonly scale: ValueScale;
  /** Values are shares: 0..1, with Wilson's interval at each day. */
  readonly share: boolean;
  readonly better: "more" | "less" | null;
  /** Of the interval of the slope, 0.5 to below 1. */
  readonly confidence: number;
}

/** Value on the scale of the trend as it is told. */
export function shown(y: number, { scale, share }: LineRule): number {
  const value = scale === "log" ? Math.exp(y) : y;
  return share ? Math.min(Math.max(value, 0), 1) : value;
}

/** Each row's own level, by notes. */
export function rowMiddles(values: readonly DayValue[]): ReadonlyMap<string, number> {
  const sums = new Map<string, { sum: number; notes: number }>();
  for (const { row, y, notes } of values) {
    const known = sums.get(row) ?? { sum: 0, notes: 0 };
    sums.set(row, { sum: known.sum + notes * y, notes: known.notes + notes });
  }
  return new Map([...sums].map(([row, { sum, notes }]) => [row, sum / notes]));
}

/** Level common to all rows, by notes. */
export function overallLevel(values: readonly DayValue[], levels: ReadonlyMap<string, number>): number {
  const known = values.filter(({ row }) => levels.has(row));
  const notes = known.reduce((sum, value) => sum + value.notes, 0);
  return known.reduce((sum, { row, notes: n }) => sum + n * (levels.get(row) ?? 0), 0) / notes;
}

/**
 * A point for each day: what its rows lie above or below their own levels, by notes, on the level of all. A day of rows that
 * nothing is compared with has its plain mean.
 *
 * @param levels of rows at the first session, or their middles where there is no line
 */
export function pointsOf(
  values: readonly DayValue[],
  days: readonly PracticeDay[],
  levels: ReadonlyMap<string, number>,
  rule: LineRule,
): readonly TrendPoint[] {
  const overall = levels.size === 0 ? 0 : overallLevel(values, levels);
  const byDay = new Map<string, DayValue[]>(days.map((day) => [day, []]));
  for (const value of values) byDay.get(value.day)?.push(value);
  return days.map((day) => {
    const all = byDay.get(day) ?? [];
    const like = all.filter(({ row }) => levels.has(row));
    return like.length > 0 ? pointOf(day, like, levels, overall, rule) : pointOf(day, all, levels, 0, rule);
  });
}

function pointOf(
  day: PracticeDay,
  values: readonly DayValue[],
  levels: ReadonlyMap<string, number>,
  overall: number,
  rule: LineRule,
): TrendPoint {
  const notes = values.reduce((sum, value) => sum + value.notes, 0);
  const above = values.reduce((sum, { row, y, notes: n }) => sum + n * (y - (levels.get(row) ?? 0)), 0);
  const value = shown(overall + above / notes, rule);
  const interval = rule.share ? wilsonInterval(value * notes, notes) : null;
  return { day, value, low: interval?.low ?? null, high: interval?.high ?? null, notes };
}
