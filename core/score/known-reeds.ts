import { asksForChords, type Exercise } from "../exercise/exercise.ts";
import { type Harp, reedNote } from "../instrument/harp.ts";
import { actionNote, EVERYTHING, type ReedAction, reedActions } from "../instrument/reed-actions.ts";
import { targetHzOf } from "../instrument/target-cents.ts";
import type { KnownReeds } from "../listen/known-reeds.ts";
import { hzToMidi } from "../pitch/equal-temperament.ts";
import { semitones } from "../units.ts";

/** What listening may know of a harp: every sound of it, and the reeds next to each in the same breath. */
export function knownReeds(harp: Harp): KnownReeds {
  return reedActions(harp.layout, EVERYTHING)
    .filter(({ action }) => actionNote(harp, action) !== null)
    .map(({ action }) => ({
      midi: hzToMidi(targetHzOf(harp, action)),
      besideMidi: [action.hole - 1, action.hole + 1].flatMap((hole) => plainReed(harp, hole, action.breath)),
    }));
}

/** What listening may know to hear an exercise: where it asks for chords, they are listened for. */
export function reedsOfExercise(exercise: Exercise): KnownReeds {
  const known = knownReeds(exercise.harp);
  if (!asksForChords(exercise)) return known;
  const { harp } = exercise;
  const sounding = reedActions(harp.layout, EVERYTHING).filter(
    ({ action }) => actionNote(harp, action) !== null,
  );
  return known.map((sound, place) => {
    const action = sounding[place]?.action;
    if (action === undefined || action.technique !== "plain") return sound;
    const { hole, breath } = action;
    const ownCents = harp.reedOffsets?.[hole - 1]?.[breath] ?? 0;
    return { ...sound, midi: sound.midi + ownCents / 100, reed: { hole, breath } };
  });
}

function plainReed(harp: Harp, hole: number, breath: ReedAction["breath"]): readonly number[] {
  if (reedNote(harp, hole, breath) === null) return [];
  const action: ReedAction = { hole, breath, technique: "plain", bentSemitones: semitones(0) };
  return [hzToMidi(targetHzOf(harp, action))];
}
