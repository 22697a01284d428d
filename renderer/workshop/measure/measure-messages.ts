import type { Harp } from "../../../core/instrument/harp.ts";
import type { HeardBeats, SoundingPair } from "../../../core/workshop/measure/heard-beats.ts";
import type { MeasuredTake } from "../../../core/workshop/measure/measure-take.ts";

/** What takes too long for the window's own thread. */
export type MeasureJob =
  | {
      readonly kind: "take";
      readonly samples: Float32Array;
      readonly sampleRateHz: number;
      readonly harp: Harp;
    }
  | {
      readonly kind: "beats";
      readonly samples: Float32Array;
      readonly sampleRateHz: number;
      readonly pair: SoundingPair;
    };

export type MeasureReport =
  | { readonly kind: "progress"; readonly share: number }
  | { readonly kind: "take"; readonly measured: MeasuredTake }
  | { readonly kind: "beats"; readonly heard: HeardBeats }
  | { readonly kind: "failed"; readonly reason: string };
