import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import type { HeardNote, Listening } from "../../core/listen/listening.ts";

/** Name the worklet registers under. */
export const TAP = "reedpath-tap";

/** From the window to the worklet: where blocks are to be sent, or that no more are wanted. */
export type TapCommand = { readonly kind: "connect"; readonly port: MessagePort } | { readonly kind: "end" };

/** From the worklet to the listening worker: samples as they came in. */
export interface TapBlock {
  /** Frame of the context's clock at the first sample. */
  readonly frame: number;
  readonly samples: Float32Array;
}

/** A part of the running take: samples that follow those of the part before. */
export interface TakePiece {
  /** Frame of the clock at the take's first sample. */
  readonly firstFrame: number;
  readonly samples: Float32Array;
}

/** From the window to the listening worker. */
export type ListenCommand =
  | { readonly kind: "connect"; readonly port: MessagePort; readonly sampleRateHz: number }
  /** @property inPieces whether the take is told piece by piece as well, while it runs */
  | { readonly kind: "start"; readonly known: KnownReeds | null; readonly inPieces: boolean }
  /** @property untilFrame of the context's clock, where the take is whole no longer; null for all of it */
  | { readonly kind: "stop"; readonly untilFrame: number | null }
  /** Notes are to be told as they end, until "unfollow". */
  | { readonly kind: "follow"; readonly known: KnownReeds }
  | { readonly kind: "unfollow" }
  | { readonly kind: "cancel" };

/** What the microphone hears just now. */
export interface ReadingReport {
  readonly kind: "reading";
  /** Frame of the context's clock in the middle of the window that pitch and level rest on. */
  readonly frame: number;
  readonly pitchMidi: number | null;
  readonly levelDbfs: number;
  /** Level of the second reed in a note that has just ended, in dB against it; null where none sounded. */
  readonly secondReedDb: number | null;
  /** Whether anything since the last reading reached full scale. */
  readonly clipped: boolean;
  readonly silent: boolean;
}

/** From the listening worker to the window. */
export type ListenReport =
  | ReadingReport
  | { readonly kind: "started" }
  | ({ readonly kind: "piece" } & TakePiece)
  /** More samples never came than a take can do without: it ends before them. */
  | { readonly kind: "broken off"; readonly missingSamples: number }
  /** A note has ended; seconds count from "follow". */
  | { readonly kind: "note"; readonly note: HeardNote; readonly nowSeconds: number }
  | {
      readonly kind: "take";
      readonly firstFrame: number;
      readonly samples: Float32Array;
      readonly lostSamples: number;
      readonly listening: Listening;
    }
  | { readonly kind: "failed"; readonly reason: string };
