import type { Exercise } from "../../core/exercise/exercise.ts";
import type { ProgressStore } from "../store/progress-store.ts";

/** What answers are made of. */
export interface ProgressSources {
  readonly progress: ProgressStore;
  /** The exercise of an attempt; null if it is gone. */
  readonly exerciseOf: (id: string) => Promise<Exercise | null>;
}
