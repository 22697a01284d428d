import { rollUp } from "../../core/progress/counts/roll-ups.ts";
import type { SessionFact } from "../../core/progress/counts/session-fact.ts";
import type { MeasureTrend, Scope, TrendMeasure } from "../../core/progress/trends/trend.ts";
import { type DayRows, trendsOf } from "../../core/progress/trends/trends.ts";
import { fact, measured } from "./session-facts.ts";

export const rowsOf = (facts: readonly SessionFact[]) => {
  const { groupDays, itemDays, reedDays } = rollUp(facts);
  return {
    groupDays: [...groupDays.values()],
    itemDays: [...itemDays.values()],
    reedDays: [...reedDays.values()],
  } satisfies DayRows;
};

/** One measure of a view; fails where it has none. */
export function trendOf(
  facts: readonly SessionFact[],
  measure: TrendMeasure,
  scope: Scope = { kind: "all" },
): MeasureTrend {
  const found = trendsOf(rowsOf(facts), [scope]).trends.find((trend) => trend.measure === measure);
  if (found === undefined) throw new Error(`no ${measure}`);
  return found;
}

/** Twenty values with this mean and this sample deviation exactly. */
export function cents(mean: number, deviation: number): readonly number[] {
  // [calc] ten at +d and ten at -d have the sample deviation d √(20/19).
  const step = deviation * Math.sqrt(19 / 20);
  return Array.from({ length: 20 }, (_, note) => mean + (note % 2 === 0 ? step : -step));
}

/** [calc] 19 values free to vary take 1/38 + 1/2166 from the logarithm on average, which is given back. */
export const OF_TWENTY = Math.exp(1 / 38 + 1 / 2166);

/** One attempt a day whose cents lie about `bias` with `spread`, one for each day. */
export const spreads = (values: readonly number[], bias = 0, changes: Partial<SessionFact> = {}) =>
  values.map((spread, day) =>
    fact(day, { measured: measured({ plainCents: cents(bias, spread) }), ...changes }),
  );
