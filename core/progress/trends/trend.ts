import type { NoteValue } from "../../tune/tempo.ts";
import type { Measure } from "../counts/measured.ts";
import type { PracticeDay } from "../practice-day.ts";

/** What a trend can be told of; a tempo reached is the fastest of the day with enough right and a small enough spread. */
export type TrendMeasure = Measure | "tempo reached";

/** What a trend is about. Whatever it spans, only what was practised alike is compared. */
export type Scope =
  | { readonly kind: "all" }
  | { readonly kind: "position"; readonly position: number }
  | { readonly kind: "tune"; readonly tuneId: string }
  /** A drill or a stretch of a tune, on every harp and at every tempo. */
  | { readonly kind: "item"; readonly item: string }
  | { readonly kind: "group"; readonly group: string }
  /** One reed action or pair of them on one harp, by its tab as in `ReedTable`. */
  | { readonly kind: "reed"; readonly harp: string; readonly name: string }
  | { readonly kind: "pair"; readonly harp: string; readonly name: string };

/**
 * "first": first attempts of each day, cold. "day": every attempt of the day, first ones compared with first ones, later with
 * later. "best": the best of each day.
 */
export type LineKind = "first" | "day" | "best";

/**
 * "too early": fewer than eight days that can be compared. "no clear change": zero lies inside the interval. "changed": it
 * moved, and that is neither better nor worse. "not judged": told, but it would rise by more attempts alone.
 */
export type Verdict = "too early" | "no clear change" | "better" | "worse" | "changed" | "not judged";

/** A day's value, each exercise moved to the level common to all, in the unit of the measure. */
export interface TrendPoint {
  readonly day: PracticeDay;
  readonly value: number;
  /** Wilson's interval of the day's notes for a share; null for everything else. */
  readonly low: number | null;
  readonly high: number | null;
  /** Notes the value rests on. */
  readonly notes: number;
}

/** The line through the days and the band it may lie in. */
export interface TrendBand {
  readonly day: PracticeDay;
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** From the first to the last session along the line, in the unit of the measure; `low` to `high` holds "to less from". */
export interface Change {
  readonly from: number;
  readonly to: number;
  readonly low: number;
  readonly high: number;
}

export interface TrendLine {
  readonly kind: LineKind;
  readonly verdict: Verdict;
  /** One for each day that has a value, oldest first. */
  readonly points: readonly TrendPoint[];
  /** Same days; empty where it is too early. */
  readonly band: readonly TrendBand[];
  /** Null where it is too early. */
  readonly change: Change | null;
  /** Days that can be compared with another day. */
  readonly sessions: number;
  readonly notes: number;
  /** One sentence: what changed by how much, between what, over how many sessions. */
  readonly words: string;
}

export interface MeasureTrend {
  readonly scope: Scope;
  readonly measure: TrendMeasure;
  readonly unit: "share" | "cents" | "ms" | "bpm";
  /** Counted note value of a tempo; null for other measures. */
  readonly noteValue: NoteValue | null;
  /** Null where a change is never called better or worse. */
  readonly better: "more" | "less" | null;
  /** The line that is judged. */
  readonly day: TrendLine;
  /** Null where a measure is not told apart so. */
  readonly first: TrendLine | null;
  readonly best: TrendLine | null;
  /** "The same scale on the G harp, crotchet = 86 to 95." */
  readonly compared: string;
}

/** Trends that are looked at together. */
export interface TrendView {
  /** In the order of `MEASURES`, tempo last; a measure that no day has is absent. */
  readonly trends: readonly MeasureTrend[];
  /** Days of practice in all. */
  readonly days: number;
  /** Measures that are judged, and what each interval holds so that all together hold 95 in 100. */
  readonly judged: number;
  readonly confidence: number;
}
