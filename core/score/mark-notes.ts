import { type Exercise, type ExpectedNote, lengthOf, onsetOf } from "../exercise/exercise.ts";
import { isTooShort } from "../exercise/short-notes.ts";
import { milliseconds } from "../units.ts";
import type { Answered } from "./answers.ts";
import type { ExtraNote } from "./attempt.ts";
import type { Besides } from "./besides.ts";
import { earlyBreathChange } from "./diagnosis.ts";
import type { Mark } from "./mark.ts";
import { heardMark, type MarkContext, unheardMark } from "./marks.ts";

/** One mark for each expected note, in order. */
export function markNotes(
  context: MarkContext,
  answered: Answered,
  besides: Besides,
  extras: readonly ExtraNote[],
): readonly Mark[] {
  const { exercise } = context;
  const marks = exercise.notes.map((expected) => {
    const parts = besides.partsOf(expected.index);
    if (parts.length === 0) {
      const at = expectedAt(exercise, answered, expected.index) + context.latencyMs / 1000;
      return unheardMark(context, expected, at, tooShortWords(exercise, answered.stretch, expected));
    }
    return heardMark(context, expected, {
      parts,
      leak: besides.leakOf(expected.index),
      timed: answered.timed.get(expected.index) ?? { ms: null, from: null },
      lengthShare: answered.lengthShares.get(expected.index) ?? null,
      leadMs: milliseconds(1000 * besides.leadSeconds(expected.index)),
    });
  });
  return withBreathChanges(marks, extras);
}

/**
 * Why a note may have been played too short to be heard for certain; null where it would have been. Of one pitch struck twice
 * without a gap only one is heard where either is too short, whichever it was.
 *
 * @param stretch how many times as long as written the take lasts
 */
function tooShortWords(exercise: Exercise, stretch: number, note: ExpectedNote): string | null {
  const lasts = (one: ExpectedNote) => stretch * lengthOf(exercise, one);
  const inMs = (one: ExpectedNote) => `${Math.round(1000 * lasts(one))} ms`;
  if (isTooShort(lasts(note))) return `a note of ${inMs(note)} is too short to be heard for certain`;
  const beside = [exercise.notes[note.index - 1], exercise.notes[note.index + 1]].find(
    (other) => other !== undefined && other.midi === note.midi && isTooShort(lasts(other)),
  );
  return beside === undefined ? null : `beside a note of ${inMs(beside)} on the same pitch`;
}

/** When an unanswered note should have come, by the nearest answered one before it. */
function expectedAt(exercise: Exercise, answered: Answered, index: number): number {
  const note = exercise.notes[index];
  const written = note === undefined ? 0 : onsetOf(exercise, note);
  const all = answered.stretches.flatMap(({ answers }) => answers);
  const before = all.findLast((answer) => answer.index < index) ?? all[0];
  if (before === undefined) return answered.start.beatZeroSeconds + written;
  return before.onSeconds + answered.stretch * (written - before.writtenSeconds);
}

/**
 * A breath changed too early is told at the note it cut short where another reed sounded, and at the next note where
 * that is the other reed of the same hole and so only came early.
 */
function withBreathChanges(marks: readonly Mark[], extras: readonly ExtraNote[]): readonly Mark[] {
  return marks.map((mark) => {
    if (mark.diagnosis !== null && mark.diagnosis.kind !== "two holes at once") return mark;
    const extra = extras.find(
      ({ afterIndex, diagnosis }) => afterIndex === mark.index && diagnosis?.kind === "early breath change",
    );
    if (extra?.diagnosis != null) return { ...mark, diagnosis: extra.diagnosis };
    const before = marks[mark.index - 1];
    const sameHole = before?.action.hole === mark.action.hole && before.action.breath !== mark.action.breath;
    return sameHole && mark.timing === "early" && mark.verdict === "hit" && before !== undefined
      ? { ...mark, diagnosis: earlyBreathChange(before.action, mark.action) }
      : mark;
  });
}
