import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Listening } from "../../core/listen/listening.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import type { ScoreSettings } from "../../core/score/score-take.ts";

/** `id` comes back with the answer. */
export type MarkingJob =
  | {
      readonly kind: "mark";
      readonly id: number;
      readonly exercise: Exercise;
      readonly listening: Listening;
      readonly settings: ScoreSettings;
    }
  | { readonly kind: "rehearse"; readonly id: number; readonly exercise: Exercise };

export type MarkingReport =
  | { readonly kind: "marked"; readonly id: number; readonly attempt: Attempt }
  | { readonly kind: "rehearsed"; readonly id: number }
  | { readonly kind: "failed"; readonly id: number; readonly reason: string };
