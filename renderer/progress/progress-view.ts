import type { PracticeDay } from "../../core/progress/practice-day.ts";

/** All the progress screen shows, as plain data. */
export interface ProgressView {
  /** Oldest first; days without practice are absent. */
  readonly days: readonly DayOfPractice[];
  /** How each attempt's notes were sounded, by the attempt's id: "plain", "bend". */
  readonly techniques: ReadonlyMap<string, readonly string[]>;
}

export interface DayOfPractice {
  readonly day: PracticeDay;
  readonly practisedMs: number;
  readonly attempts: number;
}

/** How far the reading has come. */
export type ProgressRead =
  | { readonly kind: "reading" }
  | { readonly kind: "trouble"; readonly words: string }
  | { readonly kind: "read"; readonly view: ProgressView };
