import { countInSeconds, type Exercise, onsetOf, targetMidi } from "../../core/exercise/exercise.ts";
import { gaussian, seededRandom } from "../../core/exercise/seeded-random.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { exerciseOf } from "../support/drills.ts";
import { heardNote, listeningOf } from "../support/listenings.ts";

export interface Played {
  readonly exercise: Exercise;
  readonly attempt: Attempt;
}

/** Two drills and a stretch of a tune, each played twice with notes that scatter, and one of every eight left out. */
export function playedEntries(): readonly Played[] {
  const up = exerciseOf({ direction: "up" });
  const stretch = { ...up, parameters: { ...up.parameters, tuneId: "t", rung: "whole tune 0-9 at 100 %" } };
  const exercises = [exerciseOf(), exerciseOf({ octaves: 2 }), stretch];
  const random = seededRandom(7);
  return exercises.flatMap((exercise) => [played(exercise, random), played(exercise, random)]);
}

function played(exercise: Exercise, random: () => number): Played {
  const normal = gaussian(random);
  const heard = exercise.notes
    .filter(() => random() > 1 / 8)
    .map((note) =>
      heardNote(
        countInSeconds(exercise) + onsetOf(exercise, note) + 0.03 * normal(),
        targetMidi(exercise, note) + 0.15 * normal(),
      ),
    );
  return { exercise, attempt: scoreTake(exercise, listeningOf(heard)) };
}
