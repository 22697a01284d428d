import type { DelayInUse } from "../../core/delay/measured-delays.ts";
import type { Attempt, Way } from "../../core/score/attempt.ts";
import type { ListenInWorker, SimulateInWorker, SlowInWorker } from "../audio/analysis.ts";
import type { DecodeRecording } from "../audio/decode.ts";
import type { Marking } from "../audio/marking.ts";
import type { MicrophoneSession, OpenMicrophone } from "../audio/microphone.ts";
import type { Playback } from "../audio/playback.ts";
import type { Reference } from "../audio/reference.ts";
import type { HistoryStore } from "../store/history-store.ts";
import type { RunningTakes } from "../store/running-take.ts";

/** What a practice session needs of the world; the app hands in the real ones, tests their doubles. */
export interface PracticeServices {
  readonly openMicrophone: OpenMicrophone;
  readonly reference: Reference;
  readonly playback: Playback;
  readonly decodeRecording: DecodeRecording;
  readonly listenInWorker: ListenInWorker;
  readonly simulateInWorker: SimulateInWorker;
  readonly slowInWorker: SlowInWorker;
  readonly marking: Marking;
  readonly history: HistoryStore;
  readonly runningTakes: Pick<RunningTakes, "begin">;
  /** Milliseconds since 1970. */
  readonly nowEpochMs: () => number;
  /** IANA name of the time zone the player is in. */
  readonly zone: () => string;
  readonly newSeed: () => number;
}

export interface PracticeOptions {
  /** Taken off every onset where `delayOf` is not given. */
  readonly latencyMs: number;
  /** The delay of what sound comes in and goes out by while a microphone is open. */
  readonly delayOf?: (microphone: MicrophoneSession) => DelayInUse;
  readonly beatWhilePlaying: "heard" | "seen";
  /** Whether chords sound along where a tune is heard; they do not where not said. */
  readonly backing?: "heard" | "silent";
  /** "in time" where not said, and where the exercise cannot be played otherwise. */
  readonly way?: Way;
  /** What begins a take; a key where not said. */
  readonly begin?: "key" | "held note";
  /** Pause after the marks before the next round begins by itself; 0, or not said, for none. */
  readonly againAfterSeconds?: number;
  /** Asked once marks are kept: what comes after the pause in place of the next round; null, or not said, for that. */
  readonly afterRound?: (attempt: Attempt) => AfterRound | null;
}

/** What comes after a round where that is not the next round of the same. */
export interface AfterRound {
  /** "The next line": what is counted down to. */
  readonly words: string;
  /** Null to count down to nothing: the marks stay. */
  readonly begin: (() => void) | null;
}
