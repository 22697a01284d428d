import type { Truth } from "../corpus/truth.ts";
import type { Answer } from "../engines/answer.ts";
import { type BendErrors, bendErrors } from "./bend-measures.ts";
import { type FrameCounts, frameCounts, NO_FRAMES } from "./frame-measures.ts";
import { type LeakOutcome, leakOutcomes } from "./leak-measures.ts";
import { NO_NOTES, type NoteCounts, noteCounts } from "./note-measures.ts";
import { delaysByFrames } from "./recognition-delay.ts";

/** All that is measured of one engine on one take, or on several together. */
export interface TakeScore {
  readonly frames: FrameCounts;
  readonly notes: NoteCounts;
  readonly leaks: readonly LeakOutcome[];
  /** Null for a take without bends. */
  readonly bends: BendErrors | null;
  readonly bendsByFrames: BendErrors | null;
  /** Milliseconds from each onset until the frames can tell the pitch; infinite where they never do. */
  readonly delaysMs: readonly number[];
}

export const NO_SCORE: TakeScore = {
  frames: NO_FRAMES,
  notes: NO_NOTES,
  leaks: [],
  bends: null,
  bendsByFrames: null,
  delaysMs: [],
};

export function scoreAnswer(truth: Truth, answer: Answer): TakeScore {
  const bent = truth.notes.some((note) => "bend" in note && note.cents !== 0);
  return {
    frames: frameCounts(truth, answer),
    notes: noteCounts(truth, answer),
    leaks: leakOutcomes(truth, answer),
    bends: bent ? bendErrors(truth, answer, "notes") : null,
    bendsByFrames: bent && answer.frames.length > 0 ? bendErrors(truth, answer, "frames") : null,
    delaysMs: delaysByFrames(truth, answer),
  };
}

/** Several takes as if they were one. */
export function together(scores: readonly TakeScore[]): TakeScore {
  return scores.reduce(
    (sum, one) => ({
      frames: added(sum.frames, one.frames),
      notes: added(sum.notes, one.notes),
      leaks: [...sum.leaks, ...one.leaks],
      bends: bothBends(sum.bends, one.bends),
      bendsByFrames: bothBends(sum.bendsByFrames, one.bendsByFrames),
      delaysMs: [...sum.delaysMs, ...one.delaysMs],
    }),
    NO_SCORE,
  );
}

const bothBends = (a: BendErrors | null, b: BendErrors | null) =>
  a === null ? b : b === null ? a : { cents: [...a.cents, ...b.cents], gross: a.gross + b.gross };

/** Numbers are summed, lists are put one behind the other. */
function added<T extends FrameCounts | NoteCounts>(a: T, b: T): T {
  const parts = Object.entries(a).map(([name, value]: [string, unknown]) => {
    const other = b[name as keyof T];
    return [name, Array.isArray(value) ? [...value, ...(other as unknown[])] : Number(value) + Number(other)];
  });
  return Object.fromEntries(parts) as T;
}
