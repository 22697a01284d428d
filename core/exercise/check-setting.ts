import { FASTEST, SLOWEST } from "../tune/tempo.ts";
import type { DrillSpec, Running } from "./drill-spec.ts";
import { LEAST_SWING, MOST_SWING, NOTES_PER_BEAT } from "./rhythm.ts";

/**
 * Why a number cannot be used, or null if it can.
 *
 * @param what the number's name as the player knows it: "the count-in"
 */
export function outside(what: string, value: number, low: number, high: number, whole = true): string | null {
  const fits = Number.isFinite(value) && value >= low && value <= high && (!whole || Number.isInteger(value));
  return fits
    ? null
    : `${what} must be ${whole ? "a whole number" : "a number"} from ${low} to ${high}, not ${value}`;
}

/** Why no drill can be made from a setting, whatever its kind, or null. */
export function checkSetting(spec: DrillSpec): string | null {
  return (
    outside("the position", spec.position, 1, 12) ??
    outside("the tempo", spec.tempo.bpm, SLOWEST, FASTEST, false) ??
    outside("the count-in", spec.countInBeats, 0, 16) ??
    outside("the beats of a bar", spec.beatsPerBar ?? 4, 1, 16) ??
    ("notesPerBeat" in spec ? checkRunning(spec) : null)
  );
}

function checkRunning({ notesPerBeat, rhythm }: Running): string | null {
  if (!NOTES_PER_BEAT.includes(notesPerBeat))
    return `there can be ${NOTES_PER_BEAT.join(", ")} notes to the beat, not ${notesPerBeat}`;
  if (rhythm === undefined || rhythm.kind === "even") return null;
  if (notesPerBeat === 1) return `one note to the beat cannot be ${rhythm.kind}: take two or more`;
  return rhythm.kind === "swung" ? outside("the swing", rhythm.ratio, LEAST_SWING, MOST_SWING, false) : null;
}
