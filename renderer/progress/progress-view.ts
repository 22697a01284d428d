import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import type { DayTotal } from "../../core/progress/counts/roll-ups.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { PairPicture, ReedPicture, WeakSpots } from "../../core/progress/spots/weak-spot.ts";
import type { Scope, TrendView } from "../../core/progress/trends/trend.ts";

/** How far back is looked, in weeks up to the last day of practice; null for everything. */
export type Weeks = 4 | 8 | 26 | 52 | null;
export const WEEKS: readonly Weeks[] = [4, 8, 26, 52, null];

/** What is compared: see `Scope`. */
export type ScopeKind = Scope["kind"];

export interface TrendsAsk {
  readonly weeks: Weeks;
  readonly kind: ScopeKind;
  readonly order: Order;
  /** What of that kind; the first of the order where null. */
  readonly scope: Scope | null;
}

export type Order = "most practised" | "newest";

/** Days looked at, both included. */
export interface Days {
  readonly from: PracticeDay;
  readonly to: PracticeDay;
}

/** Something that can be compared with itself from day to day. */
export interface Comparable {
  readonly scope: Scope;
  /** "G major scale, one octave, up - G harp, crotchet = 90.4 to 99.5" */
  readonly words: string;
  readonly days: number;
  readonly practisedMs: number;
  readonly lastDay: PracticeDay;
}

/** Null days: nothing was ever practised. */
export type TrendsAnswer =
  | { readonly days: null }
  | {
      readonly days: Days;
      readonly comparables: readonly Comparable[];
      /** What is shown; null where nothing of that kind was practised in these days. */
      readonly shown: { readonly of: Comparable; readonly view: TrendView } | null;
    };

export interface WeakSpotsAsk {
  readonly weeks: Weeks;
  /** The most practised one where null. */
  readonly harp: string | null;
}

export interface PlayedHarp {
  /** As `harpKeyOf`. */
  readonly key: string;
  /** "G harp" */
  readonly name: string;
  readonly notes: number;
}

export type WeakSpotsAnswer =
  | { readonly days: null }
  | {
      readonly days: Days;
      /** Most notes first. */
      readonly harps: readonly PlayedHarp[];
      /** Null where no note was judged in these days. */
      readonly shown: ShownSpots | null;
    };

export interface ShownSpots {
  readonly harp: PlayedHarp;
  /** How it was practised last: the harp, position and mode a drill is made for. */
  readonly setting: DrillSetting;
  readonly spots: WeakSpots;
  readonly reeds: readonly ReedPicture[];
  readonly pairs: readonly PairPicture[];
}

/** Oldest first; days without practice are absent. */
export interface MinutesAnswer {
  readonly days: readonly DayTotal[];
}

/** What can be asked, and what is answered. */
export interface ProgressAnswers {
  readonly trends: { readonly ask: TrendsAsk; readonly answer: TrendsAnswer };
  readonly "weak spots": { readonly ask: WeakSpotsAsk; readonly answer: WeakSpotsAnswer };
  readonly minutes: { readonly ask: null; readonly answer: MinutesAnswer };
}
export type AskKind = keyof ProgressAnswers;

/** How far the reading has come. */
export type Read<Answer> =
  | { readonly kind: "reading" }
  | { readonly kind: "trouble"; readonly words: string }
  | { readonly kind: "read"; readonly answer: Answer };
