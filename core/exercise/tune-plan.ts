import type { Harp } from "../instrument/harp.ts";
import type { Abilities, ReedAction } from "../instrument/reed-actions.ts";
import { type BreathBalance, breathBalance } from "../path/breath-balance.ts";
import { type Alternative, alternatives, type BreathPath, breathPath } from "../path/breath-path.ts";
import { type DifficultSpot, difficultSpots } from "../path/difficult-spots.ts";
import { evenedPath } from "../path/evened-path.ts";
import { Fitter } from "../path/fit.ts";
import { lineOfTune } from "../path/line.ts";
import type { Weights } from "../path/weights.ts";
import { type Phrase, type PhraseBars, phrasesOf } from "../tune/phrases.ts";
import type { Tempo } from "../tune/tempo.ts";
import type { Tune } from "../tune/tune.ts";
import { type LadderRule, ladderOf, type Rung } from "./tune-ladder.ts";

/** What is chosen for a tune on a harp. */
export interface TunePlanSetting {
  readonly tune: Tune;
  /** The harp in hand; of several the one that suits the tune best, at least one. */
  readonly harps: readonly Harp[];
  readonly abilities: Abilities;
  readonly weights: Weights;
  /** At the dance tempo moves are weighed. */
  readonly tempo: Tempo;
  /** Octaves the tune is moved up; null to take what suits the harp best. */
  readonly octaves: number | null;
  /** Fixed reed actions by number of the written note. */
  readonly pins: readonly { readonly written: number; readonly action: ReedAction }[];
  /** Whether the path is to even out the breath as well. */
  readonly even: boolean;
  readonly phraseBars: PhraseBars;
  /** The player's own phrases, or null for those found. */
  readonly phrases: readonly Phrase[] | null;
  readonly rule: LadderRule;
}

/** A tune laid under the breath, with everything said about it. */
export interface TunePlan {
  readonly harp: Harp;
  /** Semitones the tune is moved up. */
  readonly shift: number;
  readonly path: BreathPath;
  /** By note of the tune. */
  readonly alternatives: readonly (readonly Alternative[])[];
  readonly spots: readonly DifficultSpot[];
  readonly balance: BreathBalance;
  readonly phrases: readonly Phrase[];
  readonly ladder: readonly Rung[];
}

const OCTAVE = 12;

/** Path, alternatives, difficult spots, breath, phrases and ladder of a tune on a harp. */
export function planTune(setting: TunePlanSetting): TunePlan {
  const { tune, weights } = setting;
  const { harp, shift, line, options, path } = layPath(setting);
  const phrases = phrasesOfSetting(setting);
  return {
    harp,
    shift,
    path,
    alternatives: alternatives(line, harp, options),
    spots: difficultSpots(line, path.actions, weights),
    balance: breathBalance(line, path.actions, weights, lastNotes(tune, phrases)),
    phrases,
    ladder: ladderOf(tune, phrases, setting.rule),
  };
}

/** The tune laid under the breath on the harp it is learned on, or the best. */
export function layPath(setting: TunePlanSetting) {
  const { tune, abilities, weights, tempo, even } = setting;
  const { harp, shift } = placeOf(setting);
  const line = lineOfTune(tune, { tempo, shift });
  const pins = setting.pins.flatMap(({ written, action }) => {
    const note = tune.notes.findIndex((one) => one.written === written);
    return note < 0 ? [] : [{ note, action }];
  });
  const options = { abilities, weights, pins };
  const path = even ? evenedPath(line, harp, options) : breathPath(line, harp, options);
  return { harp, shift, line, options, path };
}

/** The player's own phrases, else those found. */
export const phrasesOfSetting = ({
  tune,
  phrases,
  phraseBars,
}: Pick<TunePlanSetting, "tune" | "phrases" | "phraseBars">): readonly Phrase[] =>
  phrases ?? phrasesOf(tune, phraseBars);

/** The harp and the octave, as set or as they suit the tune. */
function placeOf({ tune, harps, abilities, weights, octaves }: TunePlanSetting) {
  const [only] = harps;
  if (only === undefined) throw new RangeError("there is no harp to lay the tune on");
  const shifts = octaves === null ? {} : { shifts: [OCTAVE * octaves] };
  const [best] = new Fitter(harps, { abilities, weights, best: 1, ...shifts }).best(tune);
  return { harp: best?.harp ?? only, shift: best?.shift ?? OCTAVE * (octaves ?? 0) };
}

/** The last note of each phrase, also where a repeat plays it again. */
function lastNotes(tune: Tune, phrases: readonly Phrase[]): readonly number[] {
  const written = new Set(
    phrases.flatMap(({ startTicks, endTicks }) => {
      const within = tune.notes.filter((note) => note.startTicks >= startTicks && note.startTicks < endTicks);
      return within.at(-1)?.written ?? [];
    }),
  );
  return tune.notes.filter((note) => written.has(note.written)).map((note) => note.index);
}
