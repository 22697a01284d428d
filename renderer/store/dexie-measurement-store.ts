import type { KeptMeasurement } from "../../core/workshop/measure/measurement.ts";
import type { ReedpathDatabase } from "./database.ts";
import { latestFirst, type MeasurementStore } from "./measurement-store.ts";
import { orTrouble } from "./store-trouble.ts";
import { written } from "./written.ts";

const WHAT = "your measurements";

/** Measurements in the browser's database. */
export class DexieMeasurementStore implements MeasurementStore {
  constructor(private readonly database: ReedpathDatabase) {}

  async ofHarp(harpId: string): Promise<readonly KeptMeasurement[]> {
    return latestFirst(
      await orTrouble(WHAT, () => this.database.measurements.where("harpId").equals(harpId).toArray()),
    );
  }

  async keep(measurement: KeptMeasurement): Promise<void> {
    await written(this.database, WHAT, () => this.database.measurements.put(measurement));
  }

  async remove(id: string): Promise<void> {
    await written(this.database, WHAT, () => this.database.measurements.delete(id));
  }
}
