import type { Exercise } from "../exercise/exercise.ts";
import { actionNote, EVERYTHING, type ReedAction, reedActions } from "../instrument/reed-actions.ts";
import { targetCents } from "../instrument/target-cents.ts";
import { referencePitchCents } from "../pitch/equal-temperament.ts";
import { type Cents, type Midi, midi } from "../units.ts";

/** A reed action with the pitch it has on the harp in hand, fractional, A4 = 440 Hz. */
export interface SoundingReed {
  readonly action: ReedAction;
  readonly midi: Midi;
}

/** Everything the harp of an exercise can sound, reeds where they were measured with their own offsets. */
export function soundingReeds(exercise: Exercise): readonly SoundingReed[] {
  const { harp } = exercise;
  return reedActions(harp.layout, EVERYTHING).flatMap(({ action }) => {
    const note = actionNote(harp, action);
    if (note === null) return [];
    const cents = targetCents(harp, action) + (reedOffset(exercise, action) ?? 0);
    return [{ action, midi: midi(note + (cents + referencePitchCents(harp.a4)) / 100) }];
  });
}

/** The measured offset of the reed a plain note rests on; null for bends, which the mouth tunes, and where none was measured. */
export function reedOffset({ harp }: Exercise, action: ReedAction): Cents | null {
  if (action.technique !== "plain") return null;
  return harp.reedOffsets?.[action.hole - 1]?.[action.breath] ?? null;
}
