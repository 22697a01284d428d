import type { Exercise } from "../exercise/exercise.ts";
import { milliseconds } from "../units.ts";
import type { Answered } from "./answers.ts";
import type { TimingSummary } from "./attempt.ts";
import type { Mark } from "./mark.ts";
import { fitLine, mean, median, sampleDeviation } from "./statistics.ts";
import { fromOwnTempo, type Stretch } from "./stretches.ts";
import { measureSwing } from "./swing.ts";

/** Fewer notes have no first and last part to compare. */
const LEAST_NOTES_FOR_DRIFT = 12;
const LEAST_NOTES = 3;

/**
 * Bias and spread of the onsets; the evenness left when a steady rush or drag is taken off; the tempo played, and how
 * it changed; and the swing, where one was asked for.
 */
export function summariseTiming(
  exercise: Exercise,
  answered: Answered,
  marks: readonly Mark[],
): TimingSummary {
  const timed = marks.filter((mark) => mark.ms !== null);
  const fromBeat = timed.filter((mark) => mark.msFrom === "beat").map((mark) => mark.ms ?? 0);
  const bias = answered.start.source === "found" ? null : mean(fromBeat);
  const spread = sampleDeviation(timed.map((mark) => mark.ms ?? 0));
  const evenness = evennessMs(exercise, answered, timed.length > 0);
  const slopes = answered.stretches.map(slopeOf);
  const slope = weightedMiddle(slopes);
  return {
    measuredNotes: timed.length > 0 ? timed.length : answered.lengthShares.size,
    biasMs: bias === null ? null : milliseconds(bias),
    spreadMs: spread === null ? null : milliseconds(spread),
    evennessMs: evenness === null ? null : milliseconds(evenness),
    evennessShare: evennessShare(exercise, answered),
    tempoRatio: slope === null ? null : 1 / slope,
    tempoDrift: tempoDrift(answered.stretches),
    swing: swingOf(exercise, answered),
  };
}

/** Milliseconds left when each stretch has its own steady tempo; where the way has no beat, when it may also change. */
function evennessMs(exercise: Exercise, answered: Answered, hasBeat: boolean): number | null {
  const left = answered.stretches.flatMap((stretch) =>
    residuals(stretch, hasBeat && !isLost(stretch, answered)),
  );
  // A steady swing other than the one asked for is told as swing.
  const deviation = sampleDeviation(withoutHabit(exercise, left));
  return left.length < LEAST_NOTES || deviation === null ? null : 1000 * deviation;
}

const isLost = ({ answers }: Stretch, { timed }: Answered) =>
  answers.some((answer) => timed.get(answer.index)?.from === "own tempo");

interface Left {
  readonly index: number;
  readonly value: number;
}

function residuals({ answers }: Stretch, steady: boolean): readonly Left[] {
  if (!steady)
    return answers.flatMap((answer, at) => {
      const value = fromOwnTempo(answers, at);
      return value === null ? [] : [{ index: answer.index, value }];
    });
  const line = fitLine(answers.map((one) => ({ x: one.writtenSeconds, y: one.onSeconds })));
  if (line === null) return [];
  return answers.map((one) => ({
    index: one.index,
    value: one.onSeconds - line.middleY - line.slope * (one.writtenSeconds - line.middleX),
  }));
}

function evennessShare(exercise: Exercise, { lengthShares }: Answered): number | null {
  const shares = [...lengthShares].map(([index, value]) => ({ index, value }));
  return shares.length < LEAST_NOTES ? null : sampleDeviation(withoutHabit(exercise, shares));
}

/** In a swung or dotted exercise, values less what notes in the same place of the beat have in common. */
function withoutHabit(exercise: Exercise, left: readonly Left[]): readonly number[] {
  const { rhythm } = exercise;
  if (rhythm === undefined || rhythm.kind === "even") return left.map(({ value }) => value);
  const groups = new Map<number, number[]>();
  const groupOf = (index: number) => placeInBeat(exercise, index);
  for (const { index, value } of left)
    groups.set(groupOf(index), [...(groups.get(groupOf(index)) ?? []), value]);
  return left.map(({ index, value }) => value - (median(groups.get(groupOf(index)) ?? []) ?? 0));
}

/** Thousandths of a beat after the last whole one. */
export function placeInBeat(exercise: Exercise, index: number): number {
  const start = exercise.notes[index]?.startBeats ?? 0;
  return Math.round(1000 * (start - Math.floor(start + 1e-6)));
}

interface Slope {
  readonly slope: number;
  readonly notes: number;
}

function slopeOf({ answers }: Pick<Stretch, "answers">): Slope | null {
  const line = fitLine(answers.map((one) => ({ x: one.writtenSeconds, y: one.onSeconds })));
  return line === null || line.slope <= 0 ? null : { slope: line.slope, notes: answers.length };
}

/** The tempo of the stretches, each as heavy as it has notes. */
function weightedMiddle(slopes: readonly (Slope | null)[]): number | null {
  const known = slopes.filter((slope) => slope !== null);
  const notes = known.reduce((sum, slope) => sum + slope.notes, 0);
  return notes === 0 ? null : known.reduce((sum, { slope, notes: count }) => sum + slope * count, 0) / notes;
}

/** Tempo of the first and the last third of the longest stretch. */
function tempoDrift(stretches: readonly Stretch[]): TimingSummary["tempoDrift"] {
  const longest = [...stretches].sort((a, b) => b.answers.length - a.answers.length)[0]?.answers ?? [];
  if (longest.length < LEAST_NOTES_FOR_DRIFT) return null;
  const third = Math.floor(longest.length / 3);
  const first = slopeOf({ answers: longest.slice(0, third) });
  const last = slopeOf({ answers: longest.slice(-third) });
  return first === null || last === null ? null : { first: 1 / first.slope, last: 1 / last.slope };
}

function swingOf(exercise: Exercise, { stretches }: Answered): TimingSummary["swing"] {
  const onsets = new Map<number, number>();
  const stretchOf = new Map<number, number>();
  for (const [place, { answers }] of stretches.entries()) {
    for (const answer of answers) {
      onsets.set(answer.index, answer.onSeconds);
      stretchOf.set(answer.index, place);
    }
  }
  return measureSwing(exercise, onsets, (from, to) => stretchOf.get(from) === stretchOf.get(to));
}
