import { type Exercise, targetMidi } from "../exercise/exercise.ts";
import { reedNote } from "../instrument/harp.ts";
import type { ReedAction } from "../instrument/reed-actions.ts";
import { targetCents } from "../instrument/target-cents.ts";
import type { HeardChord } from "../listen/chords/heard-chord.ts";
import type { HeardNote, Listening } from "../listen/listening.ts";
import { cents, type Midi, seconds, semitones } from "../units.ts";

/**
 * Heard chords as notes, so that they are paired with the written ones as notes are: each at the pitch of its lowest hole,
 * without a pitch where nothing is sure.
 */
export function chordSounds(exercise: Exercise, { chords = [] }: Listening): readonly HeardNote[] {
  return chords.map((chord) => {
    const pitchMidi = lowestPitch(exercise, chord);
    return {
      onSeconds: chord.onSeconds,
      offSeconds: chord.offSeconds,
      pitchMidi,
      spreadCents: pitchMidi === null ? null : cents(0),
      settledSeconds: seconds(pitchMidi === null ? 0 : chord.offSeconds - chord.onSeconds),
      levelDbfs: chord.levelDbfs,
      unreadable: pitchMidi === null ? "no steady pitch" : null,
      leak: null,
    };
  });
}

function lowestPitch(exercise: Exercise, { breath, holes, unsureHoles }: HeardChord): Midi | null {
  const hole = Math.min(...holes, ...unsureHoles);
  if (breath === null || !Number.isFinite(hole)) return null;
  const note = reedNote(exercise.harp, hole, breath);
  if (note === null) return null;
  const action: ReedAction = { hole, breath, technique: "plain", bentSemitones: semitones(0) };
  return targetMidi(exercise, { midi: note, targetCents: targetCents(exercise.harp, action) });
}
