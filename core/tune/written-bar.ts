import type { Midi } from "../units.ts";
import type { Metre, Ornament, Place, TuneBar } from "./tune.ts";
import { TICKS_PER_SEMIBREVE } from "./tune.ts";

/** A tune as it stands on paper, before repeats are played out: what every reader makes, and `playOut` plays. */
export interface WrittenTune {
  readonly bars: readonly WrittenBar[];
  /** Labels of parts in the order they are played; null: as written. */
  readonly partOrder: readonly string[] | null;
}

export interface WrittenNote {
  /** From the beginning of its bar. */
  readonly atTicks: number;
  readonly lengthTicks: number;
  readonly midi: Midi;
  /** As spelled, with octave. */
  readonly name: string;
  /** A tie leads on from it to a next note of the same pitch. */
  readonly tiedOn: boolean;
  readonly place: Place | null;
  readonly ornaments: readonly Ornament[];
  /** Further notes of a chord, lower first; empty if none. */
  readonly chord: readonly Midi[];
}

/** What leads elsewhere from the end of a bar. */
export interface Jump {
  readonly to: "beginning" | "segno";
  readonly until: "fine" | "coda" | "end";
}

/** The music between two bar lines, or two other places where playing may go on elsewhere. */
export interface WrittenBar {
  readonly notes: readonly WrittenNote[];
  readonly chords: readonly { readonly atTicks: number; readonly symbol: string }[];
  readonly lengthTicks: number;
  readonly metre: Metre | null;
  /** False where no bar line ends it: what is played next belongs to the same bar. */
  readonly closed: boolean;
  /** Label of the part that begins here. */
  readonly part: string | null;
  /** How often the section beginning here is played, 0 if none begins: "|:" is 2, "|::" is 3. */
  readonly repeatFrom: number;
  /** How often the section ending here is played, 0 if none ends. */
  readonly repeatTo: number;
  /** Numbers of the ending that begins here. */
  readonly ending: readonly number[] | null;
  /** A double bar line, or any other but a single one, ends it. */
  readonly doubleBar: boolean;
  readonly segno: boolean;
  /** The coda begins here. */
  readonly coda: boolean;
  /** On the way back from a jump, playing goes from the end of this bar to the coda. */
  readonly toCoda: boolean;
  readonly fine: boolean;
  readonly jump: Jump | null;
}

/** Length of a bar of this metre. */
export function metreTicks(metre: Metre): number {
  return (metre.beats * TICKS_PER_SEMIBREVE) / metre.unit;
}

/** 6/8, 9/8, 12/8: beats of three. */
export function isCompound(metre: Metre | null): boolean {
  return metre !== null && metre.unit === 8 && [6, 9, 12].includes(metre.beats);
}

export type BarKind = TuneBar["kind"];
