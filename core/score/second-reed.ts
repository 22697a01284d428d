import type { Exercise } from "../exercise/exercise.ts";
import { type ReedAction, sameAction } from "../instrument/reed-actions.ts";
import { tab } from "../instrument/tab.ts";
import type { Leak } from "../listen/listening.ts";
import { centsBetween } from "../pitch/equal-temperament.ts";
import type { SecondReed } from "./mark.ts";
import { soundingReeds } from "./reed-pitch.ts";

/** A second reed softer than this against the note is not heard as a note of its own. Common practice, no source. */
export const LOUD_SECOND_REED_DB = -18;
/** A reed that hardly speaks lies further off its pitch than one that is played. */
const SAME_REED_CENTS = 60;

/**
 * The reed of the harp in hand that sounds along with a note: on the same breath, the nearest in place to it. Where the
 * neighbour is the louder, what sounds along may be the very action asked for, bent or plain.
 */
export function secondReedOf(exercise: Exercise, action: ReedAction, leak: Leak | null): SecondReed | null {
  if (leak === null) return null;
  const [reed] = soundingReeds(exercise)
    .filter((one) => one.action.technique === "plain" || sameAction(one.action, action))
    .filter((one) => one.action.breath === action.breath)
    .filter((one) => Math.abs(centsBetween(leak.pitchMidi, one.midi)) <= SAME_REED_CENTS)
    .sort((a, b) => Math.abs(a.action.hole - action.hole) - Math.abs(b.action.hole - action.hole));
  return {
    midi: leak.pitchMidi,
    levelDb: leak.levelDb,
    tab: reed === undefined ? null : tab(reed.action),
    hole: reed?.action.hole ?? null,
    loud: leak.levelDb >= LOUD_SECOND_REED_DB,
  };
}
