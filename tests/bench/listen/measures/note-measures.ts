import type { TrueNote, Truth } from "../corpus/truth.ts";
import type { Answer, AnswerNote } from "../engines/answer.ts";
import type { NoteError } from "./frame-measures.ts";
import { matched } from "./matching.ts";

/** Counts of notes; counts of several takes add. */
export interface NoteCounts {
  readonly references: number;
  readonly estimates: number;
  /** Pairs by onset alone, within 50 and 25 ms. */
  readonly onsets50: number;
  readonly onsets25: number;
  /** Pairs by onset and pitch, within 50 cents. */
  readonly notes50: number;
  readonly notes25: number;
  /** Of the pairs within 50 ms and 50 cents: late positive, and sharp positive. */
  readonly lateSeconds: readonly number[];
  readonly errors: readonly NoteError[];
}

export const NO_NOTES: NoteCounts = {
  references: 0,
  estimates: 0,
  onsets50: 0,
  onsets25: 0,
  notes50: 0,
  notes25: 0,
  lateSeconds: [],
  errors: [],
};

export const USUAL_ONSET_SECONDS = 0.05;
const STRICT_ONSET_SECONDS = 0.025;
const PITCH_CENTS = 50;

/** mir_eval rounds distances in time to 4 decimals, so that exactly 50 ms is within 50 ms. */
const rounded = (seconds: number) => Math.round(seconds * 1e4) / 1e4;

const onsetWithin = (seconds: number) => (truth: TrueNote, heard: AnswerNote) =>
  rounded(Math.abs(truth.on - heard.on)) <= seconds;

/** Cents between a heard note and the truth; infinite for an onset without pitch. */
const pitchError = (truth: TrueNote, heard: AnswerNote) =>
  heard.midi > 0
    ? (heard.midi - truth.midi) * 100 + (heard.cents ?? 0) - truth.cents
    : Number.POSITIVE_INFINITY;

/** Whether a heard note is the true one: onset within the limit, pitch within 50 cents, the ends included. */
export const isNoteWithin = (seconds: number) => {
  const timely = onsetWithin(seconds);
  return (truth: TrueNote, heard: AnswerNote) =>
    timely(truth, heard) && Math.abs(pitchError(truth, heard)) <= PITCH_CENTS;
};

/**
 * Note measures as in mir_eval.transcription, without offsets, and mir_eval.onset (Raffel et al., "mir_eval: a transparent
 * implementation of common MIR metrics", ISMIR 2014).
 */
export function noteCounts({ notes: references }: Truth, { notes: estimates }: Answer): NoteCounts {
  const pairsBy = (fits: (truth: TrueNote, heard: AnswerNote) => boolean) =>
    matched(references, estimates, fits).filter((r) => r >= 0).length;
  const lateSeconds: number[] = [];
  const errors: NoteError[] = [];
  for (const [e, r] of matched(references, estimates, isNoteWithin(USUAL_ONSET_SECONDS)).entries()) {
    const truth = references[r];
    const heard = estimates[e];
    if (truth === undefined || heard === undefined) continue;
    lateSeconds.push(heard.on - truth.on);
    errors.push({ midi: truth.midi, cents: pitchError(truth, heard) });
  }
  return {
    references: references.length,
    estimates: estimates.length,
    onsets50: pairsBy(onsetWithin(USUAL_ONSET_SECONDS)),
    onsets25: pairsBy(onsetWithin(STRICT_ONSET_SECONDS)),
    notes50: errors.length,
    notes25: pairsBy(isNoteWithin(STRICT_ONSET_SECONDS)),
    lateSeconds,
    errors,
  };
}
