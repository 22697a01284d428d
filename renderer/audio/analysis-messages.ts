import type { Exercise } from "../../core/exercise/exercise.ts";
import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import type { Listening } from "../../core/listen/listening.ts";
import type { SimulatedTake, SimulationSettings } from "../../core/simulate/simulated-take.ts";
import type { DecodedRecording, UnreadSound } from "./read-sound.ts";

/** Work that takes too long for the window's own thread. */
export type AnalysisJob =
  | {
      readonly kind: "listen";
      readonly samples: Float32Array;
      readonly sampleRateHz: number;
      readonly known: KnownReeds | null;
    }
  | { readonly kind: "simulate"; readonly exercise: Exercise; readonly settings: SimulationSettings }
  | {
      readonly kind: "slow down";
      readonly samples: Float32Array;
      readonly sampleRateHz: number;
      /** 0.25 to 1. */
      readonly speed: number;
    }
  | { readonly kind: "read"; readonly sound: UnreadSound };

export type AnalysisReport =
  | { readonly kind: "progress"; readonly share: number }
  | { readonly kind: "heard"; readonly listening: Listening }
  | { readonly kind: "simulated"; readonly take: SimulatedTake; readonly listening: Listening }
  | { readonly kind: "slowed"; readonly samples: Float32Array }
  | { readonly kind: "read"; readonly read: DecodedRecording }
  | { readonly kind: "failed"; readonly reason: string };
