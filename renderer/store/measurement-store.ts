import type { KeptMeasurement } from "../../core/workshop/measure/measurement.ts";

/** Where measurements of harps' reeds are kept. Every verb rejects with a StoreTrouble when it cannot do its work. */
export interface MeasurementStore {
  /** Those of one harp, the latest begun first. */
  ofHarp(harpId: string): Promise<readonly KeptMeasurement[]>;
  /** Keeps a measurement, in place of the one with the same id; resolves once it is on disk. */
  keep(measurement: KeptMeasurement): Promise<void>;
  remove(id: string): Promise<void>;
}

export function latestFirst(measurements: readonly KeptMeasurement[]): readonly KeptMeasurement[] {
  return [...measurements].sort((a, b) => b.beganAtEpochMs - a.beganAtEpochMs || (a.id < b.id ? -1 : 1));
}
