import type { Harp } from "../instrument/harp.ts";
import type { Layout } from "../instrument/layout.ts";
import { type Abilities, PLAIN_ONLY } from "../instrument/reed-actions.ts";
import type { Tune } from "../tune/tune.ts";
import { addBit, type Bits, noBits, numbersIn } from "./bits.ts";
import { harpsToTry } from "./harps-to-try.ts";
import type { NoteShares } from "./layout-costs.ts";
import { LiesOf, OCTAVE_SHIFTS, placesOf } from "./lies.ts";
import { lineOfTune } from "./line.ts";
import { summaryOf } from "./line-summary.ts";
import { type Progress, runToEnd } from "./long-work.ts";
import { FIRST_WEIGHTS } from "./weights.ts";
import { allOf } from "./widest-cover.ts";

/** When a tune counts as playable on a harp: without a missing note, in one of the shifts. */
export interface PlayLimits {
  readonly abilities: Abilities;
  /** Share of the notes that may have to be bent or overblown, 0 to 1; 1 where absent. */
  readonly mostBent?: number;
  /** Semitones the tune may be moved up; written pitch and an octave either way where absent. */
  readonly shifts?: readonly number[];
}

/** For each harp which tunes it plays, by their places. A tune without notes is played by none. */
export function* coverage(
  tunes: readonly Tune[],
  harps: readonly Harp[],
  limits: PlayLimits,
): Generator<Progress, readonly Bits[]> {
  const lies = new LiesOf(limits.abilities, FIRST_WEIGHTS);
  const places = placesOf(harps, limits.shifts ?? OCTAVE_SHIFTS, lies);
  const covered = harps.map(() => noBits(tunes.length));
  for (const [number, tune] of tunes.entries()) {
    const summary = summaryOf(lineOfTune(tune, { alike: "nothing" }), FIRST_WEIGHTS);
    const plays = lies.all.map(({ costs, keyNote }) =>
      isPlayable(costs.shares(summary, keyNote), summary.notes, limits),
    );
    for (const [place, { lie }] of places.entries()) {
      const its = covered[place % harps.length];
      if (plays[lie] === true && its !== undefined) addBit(its, number);
    }
    yield { done: number + 1, of: tunes.length };
  }
  return covered;
}

/** Rounding may not refuse a tune that has exactly the share allowed. */
const ROUNDING = 1e-9;

function isPlayable(shares: NoteShares, notes: number, { mostBent = 1 }: PlayLimits): boolean {
  return notes > 0 && shares.missing === 0 && shares.bent + shares.overblown <= mostBent * notes + ROUNDING;
}

/** Where tunes are played for the share without bends: as written on the twelve usual harps, or in any octave. */
export type BendlessSetting = "written" | "any octave";
const SEVERAL_OCTAVES: readonly number[] = [-36, -24, -12, 0, 12, 24, 36];

/**
 * Share of tunes that one of the twelve keys of a layout plays without any bend, by layout, 0 to 1. The plausibility figure of
 * the fact sheet (1,070 dances of O'Neill 1903): "written" is its setting (a), "any octave", which stands for any register
 * too, its setting (b).
 */
export function bendlessShares(
  tunes: readonly Tune[],
  layouts: readonly Layout[],
  setting: BendlessSetting,
): readonly number[] {
  const shifts = setting === "written" ? [0] : SEVERAL_OCTAVES;
  return layouts.map((layout) => {
    const harps = harpsToTry({ layouts: [layout] });
    const sets = runToEnd(coverage(tunes, harps, { abilities: PLAIN_ONLY, shifts }));
    return tunes.length === 0 ? 0 : numbersIn(allOf(sets, noBits(tunes.length))).length / tunes.length;
  });
}
