import { centsBetween, HOP_SECONDS, type TrueNote, type Truth } from "../corpus/truth.ts";
import type { Answer } from "../engines/answer.ts";
import { median } from "./statistics.ts";

/** A note and how far off it was heard, cents. */
export interface NoteError {
  readonly midi: number;
  readonly cents: number;
}

/** Counts of frames and steady parts; counts of several takes add. */
export interface FrameCounts {
  readonly sounding: number;
  /** Sounding and called so. */
  readonly recalled: number;
  readonly silent: number;
  /** Silent and called sounding. */
  readonly falseAlarms: number;
  readonly within50: number;
  readonly within10: number;
  readonly within5: number;
  /** Right but for octaves, of these too high and too low. */
  readonly chroma: number;
  readonly octaveUp: number;
  readonly octaveDown: number;
  /** Right in pitch and voicing. */
  readonly overall: number;
  /** Notes of which the steady part was measured, and those over 50 cents off or hardly heard. */
  readonly notes: number;
  readonly gross: number;
  /** Median error over the steady part of each note but the gross ones. */
  readonly steady: readonly NoteError[];
}

export const NO_FRAMES: FrameCounts = {
  sounding: 0,
  recalled: 0,
  silent: 0,
  falseAlarms: 0,
  within50: 0,
  within10: 0,
  within5: 0,
  chroma: 0,
  octaveUp: 0,
  octaveDown: 0,
  overall: 0,
  notes: 0,
  gross: 0,
  steady: [],
};

const GROSS_CENTS = 50;
/** The steady part of a note, as shares of its length. */
const STEADY_FROM = 0.35;
const STEADY_TO = 0.85;

/**
 * Frame measures as in mir_eval.melody, after the MIREX evaluation of audio melody extraction (Salamon, Gomez, Ellis and
 * Richard, IEEE Signal Processing Magazine 31(2), 2014), on a grid of 5 ms with the nearest estimate: a negative pitch is
 * an estimate in a frame called silent, and counts for pitch but not for voicing.
 * Differs: exactly 50 cents counts as right, as for notes; frames in between sounding and silent are left out.
 */
export function frameCounts(truth: Truth, answer: Answer): FrameCounts {
  if (answer.frames.length === 0) return NO_FRAMES;
  const near = nearestEstimates(answer, truth.f0.length);
  const counts = { ...NO_FRAMES };
  for (const [i, kind] of truth.voiced.entries()) {
    const estimate = near[i] ?? 0;
    if (kind === 1) countSounding(counts, estimate, truth.f0[i] ?? 0);
    if (kind === 0) {
      counts.silent++;
      if (estimate > 0) counts.falseAlarms++;
      else counts.overall++;
    }
  }
  const errors = truth.notes.map((note) => steadyError(note, truth, near));
  const steady = truth.notes.flatMap(({ midi }, n) => {
    const cents = errors[n] ?? null;
    return cents === null ? [] : [{ midi, cents }];
  });
  return { ...counts, steady, notes: errors.length, gross: errors.length - steady.length };
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

function countSounding(counts: Mutable<FrameCounts>, estimate: number, trueHz: number): void {
  counts.sounding++;
  if (estimate > 0) counts.recalled++;
  if (estimate === 0) return;
  const cents = centsBetween(Math.abs(estimate), trueHz);
  const off = Math.abs(cents);
  if (off <= 50) counts.within50++;
  if (off <= 10) counts.within10++;
  if (off <= 5) counts.within5++;
  if (off <= 50 && estimate > 0) counts.overall++;
  if (Math.abs(cents - 1200 * Math.floor(cents / 1200 + 0.5)) > 50) return;
  counts.chroma++;
  if (cents > 50) counts.octaveUp++;
  if (cents < -50) counts.octaveDown++;
}

/** The estimate nearest to each frame of the truth; 0 where none is within one and a half hops, or 8 ms. */
function nearestEstimates(answer: Answer, count: number): Float64Array {
  const frames = answer.frames.filter(({ f0 }) => Number.isFinite(f0));
  const hops = frames.slice(1, 400).map(({ t }, i) => t - (frames[i]?.t ?? 0));
  const reach = Math.max(1.5 * (frames.length > 2 ? median(hops) : HOP_SECONDS), 0.008);
  let j = 0;
  return Float64Array.from({ length: count }, (_, i) => {
    const at = i * HOP_SECONDS;
    const distance = (k: number) => Math.abs((frames[k]?.t ?? Number.POSITIVE_INFINITY) - at);
    while (j + 1 < frames.length && distance(j + 1) <= distance(j)) j++;
    return distance(j) <= reach ? (frames[j]?.f0 ?? 0) : 0;
  });
}

/** Median over the steady part, cents; null if that is gross, or fewer than half of the frames have an estimate. */
function steadyError({ on, off }: TrueNote, truth: Truth, near: Float64Array): number | null {
  const length = off - on;
  const from = Math.ceil((on + STEADY_FROM * length) / HOP_SECONDS);
  const to = Math.floor((on + STEADY_TO * length) / HOP_SECONDS);
  const errors: number[] = [];
  for (let i = from; i <= to && i < near.length; i++) {
    const estimate = near[i] as number;
    if (estimate !== 0) errors.push(centsBetween(Math.abs(estimate), truth.f0[i] ?? 0));
  }
  if (errors.length < 3 || errors.length < 0.5 * (to - from + 1)) return null;
  const middle = median(errors);
  return Math.abs(middle) > GROSS_CENTS ? null : middle;
}
