import type { Hole, Listening } from "../listen/listening.ts";
import { midi } from "../units.ts";
import type { Answered } from "./answers.ts";
import type { ExtraNote } from "./attempt.ts";
import { SAME_REED_SEMITONES } from "./played-parts.ts";

/** Of a note of which so much is missing nobody can say that it was not played. */
const MISSING_SHARE = 1 / 3;
/** Where sound begins again the ear needs a moment to know a note. */
const AFTER_SECONDS = 0.03;
const BEFORE_SECONDS = 0.01;

/** Why a note cannot be called missed. */
export const IN_A_HOLE = "the sound broke off here";
/** Why nothing is said of when a note began. */
export const AT_A_HOLE = "the sound broke off where it begins";

/** Whether too much is missing of a stretch of the recording to say what was played in it. */
export function isInHole({ holes = [] }: Listening, fromSeconds: number, lengthSeconds: number): boolean {
  const missing = holes.reduce((sum, hole) => {
    const from = Math.max(fromSeconds, hole.fromSeconds);
    return sum + Math.max(0, Math.min(fromSeconds + lengthSeconds, hole.toSeconds) - from);
  }, 0);
  return missing > 0 && missing >= MISSING_SHARE * lengthSeconds;
}

/** Whether a sound begins where sound was missing just before: then it may have begun in there. */
export function beginsAtHole({ holes = [] }: Listening, onSeconds: number): boolean {
  return holes.some((hole) => isAt(hole, onSeconds));
}

const isAt = ({ fromSeconds, toSeconds }: Hole, onSeconds: number) =>
  onSeconds >= fromSeconds - BEFORE_SECONDS && onSeconds <= toSeconds + AFTER_SECONDS;

/** The answers without times for notes that begin where sound was missing. */
export function withoutTimesAtHoles(
  answered: Answered,
  listening: Listening,
  latencySeconds: number,
): Answered {
  if (listening.holes === undefined) return answered;
  const torn = new Set(
    answered.stretches
      .flatMap(({ answers }) => answers)
      .filter(({ onSeconds }) => beginsAtHole(listening, onSeconds + latencySeconds))
      .map(({ index }) => index),
  );
  return { ...answered, timed: new Map([...answered.timed].filter(([index]) => !torn.has(index))) };
}

/** What was heard besides, without the second half of a note that a hole cut in two. */
export function withoutTornNotes(extras: readonly ExtraNote[], listening: Listening): readonly ExtraNote[] {
  const { holes = [], notes } = listening;
  return extras.filter((extra) => {
    const hole = holes.find((one) => isAt(one, extra.onSeconds));
    if (hole === undefined) return true;
    const before = notes.findLast(({ offSeconds }) => offSeconds <= hole.toSeconds);
    const pitch = before?.pitchMidi ?? midi(Number.NaN);
    // What begins at a hole on another pitch may be a note the hole has swallowed the attack of.
    return !(Math.abs(pitch - extra.heardMidi) < SAME_REED_SEMITONES);
  });
}
