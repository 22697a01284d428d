import { type LaidTune, layTune } from "../../core/progress/repertoire/repertoire-lay.ts";
import { bpm } from "../../core/units.ts";
import type { GlanceWorld } from "./glance-shape.ts";
import { readText } from "./read-text.ts";
import type { LayAsk } from "./tune-messages.ts";

/** How a tune of a set list lies on the harps, its dance tempo as the player set it; null where its text cannot be read. */
export function laidOf(
  { abc, study, harp }: LayAsk,
  { harps, abilities, rules }: GlanceWorld,
): LaidTune | null {
  const [read] = readText(abc, study?.voice ?? null).tunes;
  if (read === undefined) return null;
  const learned = study?.harp ?? null;
  const laid = layTune(read.tune, {
    harps,
    harp: harp ?? learned,
    // The octave belongs to the harp it was chosen on.
    octaves: harp === null ? (study?.octaves ?? null) : null,
    abilities,
    weights: rules.weights,
  });
  return study?.danceBpm === undefined
    ? laid
    : { ...laid, tempo: { ...laid.tempo, bpm: bpm(study.danceBpm) } };
}
