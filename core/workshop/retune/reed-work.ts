import type { Harp } from "../../instrument/harp.ts";
import { reedNote } from "../../instrument/harp.ts";
import { midiToHz } from "../../pitch/equal-temperament.ts";
import { type Cents, cents, midi } from "../../units.ts";
import { FAILING_CENTS } from "../measure/reed-results.ts";
import type { ReedChange } from "./reed-change.ts";

/** What a player may set. */
export interface RetuningLimits {
  /** Beyond so many semitones a reed is swapped instead of tuned. */
  readonly mostSemitones: number;
  /** A reed this near its goal is left as it is. */
  readonly toleranceCents: number;
}

/**
 * Beyond two semitones a reed is swapped; 3 cents by meter are a fair goal. Common practice, no source; the working limit of
 * one tuner is 1 Hz, 8, 4 or 2 cents at A3, A4 or A5 (Hansson, How I tune harmonicas, part 4).
 */
export const USUAL_LIMITS: RetuningLimits = { mostSemitones: 2, toleranceCents: 3 };
export const LIMIT_BOUNDS = {
  mostSemitones: { low: 0, high: 12 },
  toleranceCents: { low: 0.5, high: 20 },
} as const;

/**
 * What a temperament and an ordinary reed's own error add to a step of whole semitones without making it another one: a
 * whole tone of 204 cents is still a whole tone. Our own measure.
 */
const OVER_SEMITONES_CENTS = 20;
/** Below C4 a reed tolerates less removal at its base before it weakens; where low begins is our own measure. */
const LOW_REED_MIDI = 60;
/** Two pitches this close are one; below what arithmetic in hertz leaves. */
const SAME_CENTS = 1e-6;

/** What is done to a reed. */
export type ReedWork =
  /** Near enough as it is. */
  | { readonly kind: "leave" }
  /** Metal off the flat of the reed near its free tip. */
  | { readonly kind: "raise" }
  /** Metal off near the base, or, with `mass`, a little mass put on near the tip. */
  | { readonly kind: "lower"; readonly mass: boolean }
  | {
      readonly kind: "swap";
      readonly why: "past the limit" | "fallen by itself";
      readonly donor: Donor | null;
    };

/** A reed and what is done to it. */
export interface PlannedReed {
  readonly change: ReedChange;
  readonly work: ReedWork;
}

/** The harp whose reed in the same place lies nearest to the wanted pitch. */
export interface Donor {
  readonly harp: Harp;
  /** What is left to tune on its reed. */
  readonly changeCents: Cents;
}

/**
 * What is to be done to a reed.
 *
 * @param stock harps a reed could come from, most easily had first
 */
export function reedWork(
  change: ReedChange,
  limits: RetuningLimits,
  stock: readonly Harp[],
  from: Harp,
): ReedWork {
  const { changeCents, measuredOffCents } = change;
  if (measuredOffCents !== null && measuredOffCents <= FAILING_CENTS + SAME_CENTS)
    return { kind: "swap", why: "fallen by itself", donor: nearestDonor(change, limits, stock, from) };
  if (isWithin(changeCents, limits.toleranceCents)) return { kind: "leave" };
  if (isPastLimit(changeCents, limits))
    return { kind: "swap", why: "past the limit", donor: nearestDonor(change, limits, stock, from) };
  if (changeCents > 0) return { kind: "raise" };
  return { kind: "lower", mass: isLowReed(change) };
}

export const isWithin = (change: number, most: number) => Math.abs(change) <= most + SAME_CENTS;

/** Whether a change is more than a player tunes a reed by. */
export const isPastLimit = (change: number, { mostSemitones }: RetuningLimits) =>
  !isWithin(change, 100 * mostSemitones + OVER_SEMITONES_CENTS);

/** Whether a change is about a semitone or less. */
export const isSmall = (change: number) => isWithin(change, 100 + OVER_SEMITONES_CENTS);

const isLowReed = ({ noteNow }: ReedChange) => noteNow < LOW_REED_MIDI;

/**
 * The nearest reed of the same hole and breath; of equally near ones that of the first layout, then of the nearest key. Null
 * where there is none, or even the nearest would have to be tuned too far.
 */
function nearestDonor(
  change: ReedChange,
  limits: RetuningLimits,
  stock: readonly Harp[],
  from: Harp,
): Donor | null {
  const layouts = [...new Set(stock.map(({ layout }) => layout))];
  const found = stock.flatMap((harp) => {
    const note = reedNote(harp, change.hole, change.breath);
    if (note === null) return [];
    const changeCents = cents(1200 * Math.log2(change.wantedHz / midiToHz(midi(note), harp.a4)));
    const kind = layouts.indexOf(harp.layout);
    return [{ harp, changeCents, kind, keysAway: Math.abs(harp.keyNote - from.keyNote) }];
  });
  const [first, ...rest] = found;
  if (first === undefined) return null;
  const { harp, changeCents } = rest.reduce((best, one) => (isNearer(one, best) ? one : best), first);
  return isPastLimit(changeCents, limits) ? null : { harp, changeCents };
}

interface DonorRank {
  readonly changeCents: Cents;
  readonly kind: number;
  readonly keysAway: number;
}

function isNearer(one: DonorRank, other: DonorRank): boolean {
  const nearer = Math.abs(one.changeCents) - Math.abs(other.changeCents);
  if (Math.abs(nearer) > SAME_CENTS) return nearer < 0;
  return one.kind === other.kind ? one.keysAway < other.keysAway : one.kind < other.kind;
}

/** What there is left to tune by hand: on the reed itself, or on the one that takes its place. */
export function tunedCents({ changeCents }: ReedChange, work: ReedWork): Cents {
  if (work.kind === "leave") return cents(0);
  return work.kind === "swap" ? (work.donor?.changeCents ?? cents(0)) : changeCents;
}
