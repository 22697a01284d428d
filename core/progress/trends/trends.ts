import type { NoteValue } from "../../tune/tempo.ts";
import { semibreves } from "../../tune/tempo.ts";
import { type Claims, claimsTogether } from "./claims-together.ts";
import type { DayValue } from "./day-values.ts";
import type { LineKind, MeasureTrend, Scope, TrendLine, TrendView } from "./trend.ts";
import { type DayRows, type Draft, daysWithin, draftsOf } from "./trend-drafts.ts";
import { trendLine, type WordlessLine } from "./trend-line.ts";
import { lineInWords } from "./trend-words.ts";

export type { DayRows } from "./trend-drafts.ts";

/**
 * Trends of all measures in one scope or several that are looked at together.
 *
 * A line is judged on every attempt of the day. Who has not changed is told of a change in any measure of the view at most five
 * times in a hundred: each interval is made so wide that all together hold (see `confidenceOfEach`). The first attempts of the
 * days are called changed only where the days as a whole are (a fixed sequence, W. Maurer, L. A. Hothorn and W. Lehmacher
 * 1995), so they cost no width. The best of each day is told but never judged: more attempts alone make a better best.
 *
 * @param scopes without repeats
 */
export function trendsOf(rows: DayRows, scopes: readonly Scope[]): TrendView {
  const drafts = scopes.flatMap((scope) => draftsOf(rows, scope));
  const claims = claimsTogether(drafts.map(({ values }) => values.day));
  const days = new Set(scopes.flatMap((scope) => daysWithin(rows, scope))).size;
  return { trends: drafts.map((draft) => trendOf(draft, claims)), days, ...claims };
}

function trendOf({ values, scale, ...told }: Draft, { confidence, judged }: Claims): MeasureTrend {
  const { unit, better, noteValue } = told;
  const lineOf = (kind: LineKind, own: readonly DayValue[]) =>
    inBeats(trendLine(own, { kind, scale, share: unit === "share", better, confidence }), noteValue);
  const inWords = (line: WordlessLine): TrendLine => ({ ...line, words: lineInWords(line, told, judged) });
  const otherLine = (kind: "first" | "best") => {
    const own = values[kind];
    return own === undefined || own.length === 0 ? null : lineOf(kind, own);
  };
  const [day, first, best] = [lineOf("day", values.day), otherLine("first"), otherLine("best")];
  return {
    ...told,
    day: inWords(day),
    first: first === null ? null : inWords(heldBack(first, day)),
    best: best === null ? null : inWords(best),
  };
}

/** First attempts are called changed only together with the days as a whole. */
const heldBack = (first: WordlessLine, day: WordlessLine): WordlessLine =>
  first.verdict === day.verdict || first.verdict === "too early"
    ? first
    : { ...first, verdict: "no clear change" };

/** Tempi are compared in semibreves a minute and told in beats. */
function inBeats(line: WordlessLine, noteValue: NoteValue | null): WordlessLine {
  if (noteValue === null) return line;
  const beats = (value: number) => value / semibreves(noteValue);
  const { change } = line;
  return {
    ...line,
    points: line.points.map((point) => ({ ...point, value: beats(point.value) })),
    band: line.band.map(({ day, value, low, high }) => ({
      day,
      value: beats(value),
      low: beats(low),
      high: beats(high),
    })),
    change:
      change === null
        ? null
        : {
            from: beats(change.from),
            to: beats(change.to),
            low: beats(change.low),
            high: beats(change.high),
          },
  };
}
