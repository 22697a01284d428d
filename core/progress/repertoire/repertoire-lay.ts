import { beatOf, tempoIn } from "../../exercise/tune-exercise.ts";
import type { Harp } from "../../instrument/harp.ts";
import type { Position } from "../../instrument/positions.ts";
import type { Abilities } from "../../instrument/reed-actions.ts";
import { type Fit, Fitter } from "../../path/fit.ts";
import type { NoteShares } from "../../path/layout-costs.ts";
import type { Weights } from "../../path/weights.ts";
import { semibreves, type Tempo } from "../../tune/tempo.ts";
import { TICKS_PER_SEMIBREVE, type Tune } from "../../tune/tune.ts";
import { bpm } from "../../units.ts";
import { harpKeyOf } from "../counts/likeness.ts";

/** What is chosen for a tune of a set list, and what there is to choose from. */
export interface LayWish {
  /** Those of the player, or those that come into question where there are none; at least one. */
  readonly harps: readonly Harp[];
  /** The harp it is to be played on, whether owned or not; null for the best of `harps`. */
  readonly harp: Harp | null;
  /** Octaves the tune is moved up on that harp; null to take what suits it best. */
  readonly octaves: number | null;
  readonly abilities: Abilities;
  readonly weights: Weights;
}

/** How a tune lies on one harp. */
export interface HarpPlace extends NoteShares {
  readonly harp: Harp;
  /** The same for harps that are alike. */
  readonly key: string;
  /** Semitones the tune is moved up. */
  readonly shift: number;
  readonly position: Position | null;
}

/** What a set list needs of a tune: how long it is, and on which harps it lies. */
export interface LaidTune {
  /** Once through in playing order, repeats and all. */
  readonly semibreves: number;
  /** The same in bars of its metre; null for a free metre. */
  readonly bars: number | null;
  /** Before the first note and after the last, in semibreves: time in which nothing sounds. */
  readonly leadSemibreves: number;
  readonly tailSemibreves: number;
  /** Its own tempo, in the note value the metre is felt in. */
  readonly tempo: Tempo;
  readonly place: HarpPlace;
  /** Whether that harp was chosen; else it is the best of those there are. */
  readonly chosen: boolean;
  /** Each of the harps at its best, those that lack fewest notes and are easiest first. */
  readonly onEach: readonly HarpPlace[];
}

const OCTAVE = 12;

/** @throws RangeError without any harp */
export function layTune(tune: Tune, wish: LayWish): LaidTune {
  const { abilities, weights, octaves } = wish;
  const onEach = bestOfEach(new Fitter(wish.harps, { abilities, weights }).all(tune));
  const shifts = octaves === null ? {} : { shifts: [OCTAVE * octaves] };
  const [chosen] =
    wish.harp === null
      ? onEach
      : bestOfEach(new Fitter([wish.harp], { abilities, weights, best: 1, ...shifts }).all(tune));
  if (chosen === undefined) throw new RangeError("there is no harp to lay the tune on");
  return { ...lengthOf(tune), place: chosen, chosen: wish.harp !== null, onEach };
}

/** Whether every note is a plain one. */
export const isPlain = ({ bent, overblown, missing }: NoteShares): boolean =>
  bent + overblown + missing === 0;

function bestOfEach(fits: readonly Fit[]): readonly HarpPlace[] {
  const best = new Map<string, HarpPlace>();
  for (const { harp, shift, position, plain, bent, overblown, missing } of fits) {
    const key = harpKeyOf(harp);
    if (!best.has(key)) best.set(key, { harp, key, shift, position, plain, bent, overblown, missing });
  }
  return [...best.values()];
}

/** Length and tempo of a tune. Bars follow from lengths: an upbeat and the short end before it are one bar together. */
export function lengthOf({ bars, notes, metre, tempo }: Tune): Omit<LaidTune, "place" | "chosen" | "onEach"> {
  const end = bars.reduce((latest, bar) => Math.max(latest, bar.startTicks + bar.lengthTicks), 0);
  const first = notes[0]?.startTicks ?? 0;
  const last = notes.reduce((latest, note) => Math.max(latest, note.startTicks + note.lengthTicks), 0);
  const length = Math.max(end, last);
  const counted = tempoIn(tempo, beatOf(metre, tempo));
  return {
    semibreves: length / TICKS_PER_SEMIBREVE,
    bars: metre === null ? null : length / TICKS_PER_SEMIBREVE / (metre.beats / metre.unit),
    leadSemibreves: first / TICKS_PER_SEMIBREVE,
    tailSemibreves: (length - last) / TICKS_PER_SEMIBREVE,
    tempo: { ...counted, bpm: bpm(Math.round(counted.bpm)) },
  };
}

/** Sounding length of a written length at a tempo. */
export const lengthSeconds = (length: number, { bpm: beats, noteValue }: Tempo): number =>
  (length / semibreves(noteValue)) * (60 / beats);
