import { theilSen } from "../statistics/theil-sen.ts";
import { LEAST_SESSIONS } from "./claims-together.ts";
import { comparable, daysOf, placed } from "./comparable-days.ts";
import type { DayValue } from "./day-values.ts";
import type { TrendBand, TrendLine, Verdict } from "./trend.ts";
import { type LineRule, overallLevel, pointsOf, rowMiddles, shown } from "./trend-points.ts";

export { LEAST_SESSIONS } from "./claims-together.ts";

/** A line without its sentence. */
export type WordlessLine = Omit<TrendLine, "words">;

/** The line through the days of one measure: what moved, and whether that is more than chance. */
export function trendLine(of: readonly DayValue[], rule: LineRule): WordlessLine {
  // Sums come out the same in whatever order the rows were read.
  const values = [...of].sort(byRowAndDay);
  const like = comparable(values);
  const { days } = like;
  const found = days.length < LEAST_SESSIONS ? null : theilSen(placed(like.values, days), rule.confidence);
  const notes = values.reduce((sum, value) => sum + value.notes, 0);
  const told = { kind: rule.kind, sessions: days.length, notes };
  if (found === null || !Number.isFinite(found.low) || !Number.isFinite(found.high)) {
    const points = pointsOf(values, daysOf(values), rowMiddles(like.values), rule);
    return { ...told, verdict: "too early", points, band: [], change: null };
  }
  const middle = (days.length - 1) / 2;
  const level = overallLevel(like.values, found.atZero) + found.slope * middle;
  const at = (slope: number, place: number) => shown(level + slope * (place - middle), rule);
  const band = days.map((day, place): TrendBand => {
    const ends = [at(found.low, place), at(found.high, place)];
    return { day, value: at(found.slope, place), low: Math.min(...ends), high: Math.max(...ends) };
  });
  const last = days.length - 1;
  const change = (slope: number) => at(slope, last) - at(slope, 0);
  return {
    ...told,
    verdict: verdictOf(found.low, found.high, rule),
    points: pointsOf(like.values, days, found.atZero, rule),
    band,
    change: {
      from: at(found.slope, 0),
      to: at(found.slope, last),
      low: change(found.low),
      high: change(found.high),
    },
  };
}

const byRowAndDay = (one: DayValue, other: DayValue) =>
  one.row < other.row ? -1 : one.row > other.row ? 1 : one.day < other.day ? -1 : 1;

function verdictOf(low: number, high: number, { kind, better }: LineRule): Verdict {
  if (kind === "best") return "not judged";
  if (low <= 0 && high >= 0) return "no clear change";
  if (better === null) return "changed";
  return low > 0 === (better === "more") ? "better" : "worse";
}
