import { temperamentName } from "../../core/instrument/temperament.ts";
import type { MarkingSettings } from "../../core/score/mark-again.ts";

/** What differs: "A 444 Hz instead of 440, delay 30 ms instead of 0"; null where nothing does. */
export function changesInWords(before: MarkingSettings, after: MarkingSettings): string | null {
  const changes = [
    before.a4 === after.a4 ? null : `A ${after.a4} Hz instead of ${before.a4}`,
    temperamentChange(before, after),
    before.latencyMs === after.latencyMs
      ? null
      : `delay ${after.latencyMs} ms instead of ${before.latencyMs}`,
  ].filter((words) => words !== null);
  return changes.length === 0 ? null : changes.join(", ");
}

function temperamentChange(before: MarkingSettings, after: MarkingSettings): string | null {
  if (JSON.stringify(before.temperament) === JSON.stringify(after.temperament)) return null;
  return `tuned ${temperamentName(after.temperament)} instead of ${temperamentName(before.temperament)}`;
}
