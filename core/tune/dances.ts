import { bpm } from "../units.ts";
import type { Tempo } from "./tempo.ts";

/** Dances a tune may be for. */
export const TUNE_DANCES = [
  "reel",
  "jig",
  "slip-jig",
  "single-jig",
  "slide",
  "hornpipe",
  "polka",
  "strathspey",
  "march",
  "waltz",
  "barn-dance",
  "fling",
  "mazurka",
] as const;
export type TuneDance = (typeof TUNE_DANCES)[number];

const tempo = (noteValue: Tempo["noteValue"], beats: number): Tempo => ({ noteValue, bpm: bpm(beats) });

/**
 * The tempo a dance is usually asked for at, the slower end of what dancers ask for.
 *
 * Reel, jigs, slide, hornpipe, polka: tempo table of a céilí dancers' club (bars a minute times beats); slip jig: Breathnach,
 * Ceol Rince na hÉireann 1. Strathspey: 56 minims, counted in crotchets. March, waltz, barn dance, fling, mazurka: common
 * practice, no source.
 */
export const USUAL_TEMPI: Readonly<Record<TuneDance, Tempo>> = {
  reel: tempo("1/2", 116),
  jig: tempo("3/8", 116),
  "slip-jig": tempo("3/8", 144),
  "single-jig": tempo("3/8", 120),
  slide: tempo("3/8", 132),
  hornpipe: tempo("1/2", 92),
  polka: tempo("1/4", 132),
  strathspey: tempo("1/4", 112),
  march: tempo("1/4", 100),
  waltz: tempo("1/4", 140),
  "barn-dance": tempo("1/4", 160),
  fling: tempo("1/2", 72),
  mazurka: tempo("1/4", 140),
};

/** Where a tune says neither its tempo nor its dance. */
export const ANY_TEMPO: Tempo = tempo("1/4", 120);
