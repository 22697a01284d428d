import { type Harp, HIGHEST_SOUND } from "../../instrument/harp.ts";
import { placesOf, targetMidiOf } from "./harp-sounds.ts";
import type { ReedPlace, ReedReading } from "./reed-reading.ts";

/** How far a reed has come in a measurement. "silent" and "broken" are the player's word; "too high" lies beyond what is listened to. */
export const OUTCOMES = ["measured", "skipped", "silent", "broken", "too high"] as const;
export type Outcome = (typeof OUTCOMES)[number];
/** What the player can say of a reed without measuring it. */
export type Settled = Exclude<Outcome, "measured" | "too high">;

/** What was read of one reed. */
export interface MeasuredReed extends ReedPlace {
  readonly readings: readonly ReedReading[];
  /** Null until it is done with. */
  readonly outcome: Outcome | null;
}

export const MEASUREMENT_SCHEMA = "reedpath.reed-measurement";
export const MEASUREMENT_VERSION = 1;

/** All reeds of a harp, measured once; plain data, as it is kept. */
export interface ReedMeasurement {
  readonly schema: typeof MEASUREMENT_SCHEMA;
  readonly version: typeof MEASUREMENT_VERSION;
  /** The harp as it was meant to be tuned then. Its own `reedOffsets` play no part. */
  readonly harp: Harp;
  readonly source: "microphone" | "recording";
  /** Every reed of the harp, hole by hole, blow before draw. */
  readonly reeds: readonly MeasuredReed[];
}

/** A measurement as the history of a harp keeps it. */
export interface KeptMeasurement extends ReedMeasurement {
  readonly id: string;
  /** Of the harp among the player's own. */
  readonly harpId: string;
  readonly beganAtEpochMs: number;
  readonly changedAtEpochMs: number;
  /** IANA name of the zone it was made in. */
  readonly zone: string;
  /** False while the walk may still go on. */
  readonly finished: boolean;
  /** The reeds were worked on since the measurement before: pitches are not compared across it. */
  readonly afterReedWork: boolean;
}

/** A measurement of which nothing is known yet. */
export function emptyMeasurement(harp: Harp, source: ReedMeasurement["source"]): ReedMeasurement {
  const { reedOffsets: _, ...meant } = harp;
  return {
    schema: MEASUREMENT_SCHEMA,
    version: MEASUREMENT_VERSION,
    harp: meant,
    source,
    reeds: placesOf(harp).map((place) => ({ ...place, readings: [], outcome: untold(meant, place) })),
  };
}

/** Pitches above G7, and a little for a harp set sharp, are not read; extended harps have such reeds. */
function untold(harp: Harp, place: ReedPlace): "too high" | null {
  return targetMidiOf(harp, place) > HIGHEST_SOUND + 0.7 ? "too high" : null;
}
