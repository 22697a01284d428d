import type { Harp } from "../../instrument/harp.ts";
import { type Mode, modeDegrees } from "../../pitch/modes.ts";
import { pitchClass } from "../../pitch/note-names.ts";
import type { Midi } from "../../units.ts";
import type { Limits } from "./limits.ts";

/** A scale every note of which is to be playable without bends between two notes, both counted. */
export interface WantedScale {
  /** Name of the home note without octave. */
  readonly homeName: string;
  readonly home: number;
  readonly mode: Mode;
  readonly low: Midi;
  readonly high: Midi;
}

export interface DesignWish {
  /** Layout, key and register to begin with. */
  readonly harp: Harp;
  readonly scales: readonly WantedScale[];
  readonly limits: Limits;
  /** Whether, of layouts with equally few changes, the one with most triads of the scales comes first. */
  readonly chordsCount: boolean;
  /** Numerals of the first scale that has them ("IV") which must be complete on three neighbouring holes of one breath. */
  readonly mustHave: readonly string[];
}

/** Every note of a scale within its range, ascending. */
export function notesOfScale({ home, mode, low, high }: WantedScale): readonly number[] {
  const degrees = modeDegrees(mode).map(({ aboveHome }) => Number(aboveHome));
  const all = Array.from({ length: Math.max(0, high - low + 1) }, (_, step) => low + step);
  return all.filter((note) => degrees.includes(pitchClass(note - home)));
}

/** Every note of all scales, each once, ascending, in semitones above the harp's key note. */
export function wantedNotes({ harp, scales }: DesignWish): readonly number[] {
  const notes = new Set(scales.flatMap((scale) => notesOfScale(scale).map((note) => note - harp.keyNote)));
  return [...notes].sort((one, other) => one - other);
}

/** "G major". */
export const scaleName = ({ homeName, mode }: WantedScale): string => `${homeName} ${mode}`;
