import type { Attempt } from "../../core/score/attempt.ts";

/** A take, as the sheet needs it for hearing it again. */
export interface HeardTake {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

/** Where the marks on the sheet come from. A simulated take is never kept. */
export type TakeSource = "microphone" | "recording" | "simulated";

/** What became of an attempt. */
export type Keeping =
  | { readonly kind: "keeping" }
  | { readonly kind: "kept"; readonly id: string }
  | { readonly kind: "not kept"; readonly why: string };

/** The sheet's three moments, and the waits between them. */
export type PracticeState =
  | { readonly kind: "ready"; readonly trouble: string | null }
  | { readonly kind: "opening" }
  | { readonly kind: "hearing"; readonly beat: number; readonly noteIndex: number | null }
  | {
      readonly kind: "playing";
      /** Null where there is no beat: the player goes at his own pace. */
      readonly beat: number | null;
      readonly noteIndex: number | null;
      /** The note asked for last, in exercises that ask by name, degree or sound. */
      readonly calledIndex: number | null;
      readonly refused: readonly string[];
    }
  | { readonly kind: "working"; readonly what: string; readonly share: number | null }
  | {
      readonly kind: "marked";
      readonly attempt: Attempt;
      readonly take: HeardTake;
      readonly source: TakeSource;
      readonly keeping: Keeping;
      /** Where the take is being heard, in seconds, or null while it is silent. */
      readonly hearingSeconds: number | null;
    };

export const READY: PracticeState = { kind: "ready", trouble: null };

/** True while Space would stop something rather than start it. */
export function isBusy(state: PracticeState): boolean {
  return (
    state.kind === "opening" ||
    state.kind === "hearing" ||
    state.kind === "playing" ||
    state.kind === "working"
  );
}
