import type { Harp } from "../../instrument/harp.ts";

/** A tune in a set. */
export interface SetTune {
  /** Of this place in the list: the same tune may be played twice in an evening. */
  readonly id: string;
  /** Of the tune. */
  readonly tuneId: string;
  /** Kept with it, so that a tune deleted later can still be named. */
  readonly title: string;
  /** How often it is played through, repeats and all, 1 to 20. */
  readonly times: number;
  /** Tempo of this evening, in the note value the tune is counted in; its dance tempo where absent. */
  readonly bpm?: number;
  /** The harp for this evening, whole; else the one the tune is learned on, else the best of those owned. */
  readonly harp?: Harp;
}

/** Tunes that are played one after the other for one dance. */
export interface DanceSet {
  readonly id: string;
  /** "Jigs"; may be empty. */
  readonly name: string;
  readonly tunes: readonly SetTune[];
  /** From the end of one tune to the beginning of the next; 0 for straight on. */
  readonly pauseSeconds: number;
  /** Until the next set begins; nothing follows the last. */
  readonly breakSeconds: number;
}

/** What is played at a dance, in order. Plain data. */
export interface SetList {
  readonly id: string;
  readonly name: string;
  readonly sets: readonly DanceSet[];
  /** Made up for the demonstration. */
  readonly demo?: true;
}

/** Long enough for the name of any set or dance, short enough for a line. */
export const LONGEST_NAME = 60;
export const TIMES_THROUGH = { low: 1, high: 20, usual: 3 } as const;
/** Seconds. A dance needs a few minutes for partners to be found: common practice, no source. */
export const BREAK_SECONDS = { low: 0, high: 3600, usual: 180 } as const;
export const PAUSE_SECONDS = { low: 0, high: 60, usual: 0 } as const;
