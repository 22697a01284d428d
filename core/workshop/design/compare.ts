import type { Harp } from "../../instrument/harp.ts";
import type { Breath } from "../../instrument/layout.ts";
import {
  EVERYTHING,
  PLAIN_AND_BENDS,
  PLAIN_ONLY,
  type ReedAction,
  reachOf,
  reedActions,
} from "../../instrument/reed-actions.ts";
import type { HomeScale } from "../../instrument/scale-report.ts";
import { splitOctaves } from "../../instrument/sonorities.ts";
import { triadReports } from "../../instrument/triads.ts";
import { type Midi, midi } from "../../units.ts";

/** What one harp has and another lacks. */
export interface Exchange<T> {
  readonly gained: readonly T[];
  readonly lost: readonly T[];
}

/** A bend with the note it sounds. */
export interface BentNote {
  readonly action: ReedAction;
  readonly note: Midi;
}

/** An octave split by the tongue. */
export interface SplitOctave {
  readonly breath: Breath;
  readonly holes: readonly number[];
  readonly notes: readonly Midi[];
}

/** How a harp differs from another of the same key and register. */
export interface HarpComparison {
  /** Notes that sound without bends. */
  readonly plain: Exchange<Midi>;
  /** Notes that sound by a bend or without. */
  readonly reached: Exchange<Midi>;
  /** Notes that sound by anything, overblows and overdraws too. */
  readonly everything: Exchange<Midi>;
  readonly bends: Exchange<BentNote>;
  /** Numerals of triads complete on neighbouring holes of one breath, by the home key and mode asked about. */
  readonly triads: Exchange<string>;
  readonly octaves: Exchange<SplitOctave>;
}

/**
 * What is gained and lost from one harp to another.
 *
 * @param scale home note and mode the triads are told in
 */
export function compareHarps(from: Harp, to: Harp, scale: HomeScale): HarpComparison {
  const notes = (harp: Harp, abilities: typeof EVERYTHING) =>
    [...reachOf(harp.layout, abilities).keys()].map((above) => midi(harp.keyNote + above));
  const exchangeOfNotes = (abilities: typeof EVERYTHING) =>
    exchange(notes(from, abilities), notes(to, abilities), String);
  return {
    plain: exchangeOfNotes(PLAIN_ONLY),
    reached: exchangeOfNotes(PLAIN_AND_BENDS),
    everything: exchangeOfNotes(EVERYTHING),
    bends: exchange(
      bentNotes(from),
      bentNotes(to),
      ({ action, note }) => `${action.hole} ${action.breath} ${note}`,
    ),
    triads: exchange(completeTriads(from, scale), completeTriads(to, scale), String),
    octaves: exchange(
      octavesOf(from, scale),
      octavesOf(to, scale),
      ({ breath, holes, notes: sounding }) => `${breath} ${holes.join()} ${sounding.join()}`,
    ),
  };
}

function exchange<T>(before: readonly T[], after: readonly T[], keyOf: (one: T) => string): Exchange<T> {
  const had = new Set(before.map(keyOf));
  const has = new Set(after.map(keyOf));
  return {
    gained: after.filter((one) => !had.has(keyOf(one))),
    lost: before.filter((one) => !has.has(keyOf(one))),
  };
}

const bentNotes = (harp: Harp): readonly BentNote[] =>
  reedActions(harp.layout, PLAIN_AND_BENDS)
    .filter(({ action }) => action.technique === "bend")
    .map(({ action, sounds }) => ({ action, note: midi(harp.keyNote + sounds) }));

const completeTriads = (harp: Harp, scale: HomeScale): readonly string[] =>
  triadReports(harp, scale)
    .filter(({ has }) => has === "complete")
    .map(({ numeral }) => numeral);

const octavesOf = (harp: Harp, scale: HomeScale): readonly SplitOctave[] =>
  splitOctaves(harp, scale).map(({ breath, holes, notes }) => ({ breath, holes, notes }));
