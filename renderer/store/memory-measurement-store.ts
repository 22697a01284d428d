import type { KeptMeasurement } from "../../core/workshop/measure/measurement.ts";
import { latestFirst, type MeasurementStore } from "./measurement-store.ts";

/** Measurements for as long as the window is open. */
export class MemoryMeasurementStore implements MeasurementStore {
  private readonly kept = new Map<string, KeptMeasurement>();

  async ofHarp(harpId: string): Promise<readonly KeptMeasurement[]> {
    return latestFirst(structuredClone([...this.kept.values()]).filter((one) => one.harpId === harpId));
  }

  async keep(measurement: KeptMeasurement): Promise<void> {
    this.kept.set(measurement.id, structuredClone(measurement));
  }

  async remove(id: string): Promise<void> {
    this.kept.delete(id);
  }
}
