import type { Harp } from "../../instrument/harp.ts";
import { sameReeds } from "../../instrument/layout.ts";
import { practiceDay } from "../../progress/practice-day.ts";
import type { Repair } from "../retune/repair.ts";
import type { KeptMeasurement } from "./measurement.ts";

/** Whether two harps should sound the same notes, however finely tuned: what was measured of the one can be held against the other. */
export function sameNotes(one: Harp, other: Harp): boolean {
  return one.keyNote === other.keyNote && sameReeds(one.layout, other.layout);
}

/** Whether the log of a harp's retunings has work on a day of a measurement or later. */
export function workedOnSince(
  repairs: readonly Repair[],
  { beganAtEpochMs, zone }: KeptMeasurement,
): boolean {
  const measuredOn = practiceDay(beganAtEpochMs, zone);
  return repairs.some(({ passes, doneOn }) =>
    [...passes.map(({ on }) => on), doneOn].some((on) => on !== null && on >= measuredOn),
  );
}
