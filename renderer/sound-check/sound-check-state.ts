import type { LoopbackDelay } from "../../core/delay/loopback-delay.ts";
import type { PlayedAlongDelay } from "../../core/delay/played-along-delay.ts";
import type { SetUpReport } from "../../core/listen/set-up.ts";
import { type Levels, NO_LEVELS } from "./level-follower.ts";

export type MicrophoneState =
  /** `trouble` is why it is closed, where something went wrong. */
  | { readonly kind: "closed"; readonly trouble: string | null }
  | { readonly kind: "opening" }
  | {
      readonly kind: "open";
      readonly name: string;
      readonly insteadOf: string | null;
      readonly refused: readonly string[];
      readonly sampleRateHz: number;
    };

/** What takes a while; `share` is how much of it is done, 0..1. */
export type Activity =
  | { readonly kind: "none" }
  | { readonly kind: "by loudspeaker"; readonly share: number }
  /** `beat` is negative while it is counted in, null before. */
  | { readonly kind: "by playing along"; readonly share: number; readonly beat: number | null }
  | { readonly kind: "phrase"; readonly share: number };

/** What the last measuring of the delay came to. */
export type DelayOutcome =
  | { readonly way: "loudspeaker"; readonly found: LoopbackDelay }
  | { readonly way: "played along"; readonly found: PlayedAlongDelay };

export interface SoundCheckState {
  readonly microphone: MicrophoneState;
  readonly activity: Activity;
  readonly levels: Levels;
  readonly outcome: DelayOutcome | null;
  /** How loud the next measuring by loudspeaker is, dB re full scale. */
  readonly probeDb: number;
  readonly phrase: SetUpReport | null;
  /** One sentence if measuring or the phrase failed for another reason, or null. */
  readonly trouble: string | null;
}

/** Soft: someone may have headphones on after all. */
export const FIRST_PROBE_DB = -36;
export const LOUDEST_PROBE_DB = -12;

export const CLOSED: SoundCheckState = {
  microphone: { kind: "closed", trouble: null },
  activity: { kind: "none" },
  levels: NO_LEVELS,
  outcome: null,
  probeDb: FIRST_PROBE_DB,
  phrase: null,
  trouble: null,
};
