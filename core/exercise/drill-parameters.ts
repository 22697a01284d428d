import type { DrillSpec } from "./drill-spec.ts";
import type { Parameter } from "./exercise.ts";

/** What an exercise says of itself elsewhere. */
const ON_THE_EXERCISE: readonly string[] = [
  "kind",
  "harp",
  "position",
  "mode",
  "tempo",
  "countInBeats",
  "beatsPerBar",
];

/** The choices of a drill that the exercise does not show elsewhere, as JSON holds them. */
export function parametersOf(spec: DrillSpec): Readonly<Record<string, Parameter>> {
  const kept = Object.entries(spec).filter(
    ([name, value]) => value !== undefined && !ON_THE_EXERCISE.includes(name),
  );
  return Object.fromEntries(kept) as Readonly<Record<string, Parameter>>;
}
