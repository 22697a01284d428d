import type { Listening } from "../../core/listen/listening.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import type { SoundTrouble } from "../audio/sound-trouble.ts";

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
  /** It may be another player's, and is kept only where that is asked for. */
  | { readonly kind: "offered" }
  | { readonly kind: "not kept"; readonly why: string };

/** The sheet's three moments, and the waits between them. */
export type PracticeState =
  | {
      readonly kind: "ready";
      readonly trouble: string | null;
      /** Whether a note held begins the take: the microphone is open for it. */
      readonly awaitsNote: boolean;
    }
  | { readonly kind: "opening" }
  | {
      readonly kind: "hearing";
      readonly beat: number;
      readonly noteIndex: number | null;
      /** Whether it is to be played back from memory afterwards. */
      readonly thenPlay: boolean;
    }
  | {
      readonly kind: "playing";
      /** Null where there is no beat: the player goes at his own pace. */
      readonly beat: number | null;
      readonly noteIndex: number | null;
      /** The note asked for last, in exercises that ask by name, degree or sound. */
      readonly calledIndex: number | null;
      readonly refused: readonly string[];
      /** Whether the microphone was found to hear the beat. */
      readonly hearsBeat: boolean;
    }
  | {
      /** Something broke into the take; the microphone is closed. */
      readonly kind: "broken off";
      readonly trouble: SoundTrouble;
      /** Notes that are whole in what was recorded, and can be marked; null while that is looked at. */
      readonly wholeNotes: number | null;
    }
  | { readonly kind: "working"; readonly what: string; readonly share: number | null }
  | {
      readonly kind: "marked";
      readonly attempt: Attempt;
      /** Null where it is no longer kept. */
      readonly take: HeardTake | null;
      /** What was heard in the take; null for a kept one, which has to be listened to again. */
      readonly listening: Listening | null;
      readonly source: TakeSource;
      readonly keeping: Keeping;
      /** Where the take is being heard, in seconds, or null while it is silent. */
      readonly hearingSeconds: number | null;
      /** Seconds until the next round begins by itself, or null where none does. */
      readonly againInSeconds: number | null;
      /** What begins then, or what to do where nothing does; null for the next round. */
      readonly afterWords: string | null;
    };

export const READY: PracticeState = { kind: "ready", trouble: null, awaitsNote: false };

/** True while Space would stop something rather than start it. */
export function isBusy(state: PracticeState): boolean {
  return (
    state.kind === "opening" ||
    state.kind === "hearing" ||
    state.kind === "playing" ||
    state.kind === "working"
  );
}

/** The marks of a take as they come onto the sheet; what becomes of them is added by who keeps them. */
export function markedState(attempt: Attempt, take: HeardTake, listening: Listening, source: TakeSource) {
  return {
    kind: "marked" as const,
    attempt,
    take,
    listening,
    source,
    hearingSeconds: null,
    againInSeconds: null,
    afterWords: null,
  };
}
