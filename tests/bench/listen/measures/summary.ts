import { type PrecisionRecall, precisionRecall } from "./matching.ts";
import { median, quantile, rootMeanSquare, sizes } from "./statistics.ts";
import type { TakeScore } from "./take-score.ts";

/** Shares are 0..1, NaN where there was nothing to measure. */
export interface Summary {
  readonly rawPitch50: number;
  readonly rawPitch10: number;
  readonly rawPitch5: number;
  readonly rawChroma: number;
  readonly octaveUp: number;
  readonly octaveDown: number;
  readonly voicingRecall: number;
  readonly voicingFalseAlarm: number;
  readonly overall: number;
  /** Share of notes more than 50 cents off, or hardly heard, over their steady part. */
  readonly gross: number;
  readonly grossNotes: number;
  readonly onset50: PrecisionRecall;
  readonly onset25: PrecisionRecall;
  readonly note50: PrecisionRecall;
  readonly note25: PrecisionRecall;
  /** Median of (heard - true) onset. */
  readonly lateMs: number;
  /** Sizes of the errors per note, cents: by the frames of the steady part, and by the notes the engine names. */
  readonly steady: Spread;
  readonly event: Spread;
}

export interface Spread {
  readonly median: number;
  readonly p95: number;
  readonly rms: number;
}

const NOT_MEASURED: PrecisionRecall = { precision: Number.NaN, recall: Number.NaN, f1: Number.NaN };

export function summarise({ frames, notes }: TakeScore): Summary {
  const ofSounding = (count: number) => count / frames.sounding;
  const f1 = (pairs: number) =>
    notes.references > 0 ? precisionRecall(pairs, notes.references, notes.estimates) : NOT_MEASURED;
  return {
    rawPitch50: ofSounding(frames.within50),
    rawPitch10: ofSounding(frames.within10),
    rawPitch5: ofSounding(frames.within5),
    rawChroma: ofSounding(frames.chroma),
    octaveUp: ofSounding(frames.octaveUp),
    octaveDown: ofSounding(frames.octaveDown),
    voicingRecall: ofSounding(frames.recalled),
    voicingFalseAlarm: frames.falseAlarms / frames.silent,
    overall: frames.overall / (frames.sounding + frames.silent),
    gross: frames.gross / frames.notes,
    grossNotes: frames.gross,
    onset50: f1(notes.onsets50),
    onset25: f1(notes.onsets25),
    note50: f1(notes.notes50),
    note25: f1(notes.notes25),
    lateMs: 1000 * median(notes.lateSeconds),
    steady: spread(frames.steady.map(({ cents }) => cents)),
    event: spread(notes.errors.map(({ cents }) => cents)),
  };
}

export function spread(errors: readonly number[]): Spread {
  const off = sizes(errors);
  return { median: median(off), p95: quantile(off, 0.95), rms: rootMeanSquare(errors) };
}
