import type { Tempo } from "../../tune/tempo.ts";
import { bpm } from "../../units.ts";
import { type HarpPlace, isPlain, type LaidTune, lengthSeconds } from "./repertoire-lay.ts";
import type { DanceSet, SetList, SetTune } from "./repertoire-set-list.ts";

/** A tune of a set list as it will be played. */
export interface PlannedTune {
  readonly tune: SetTune;
  /** Null where the tune is no longer there. */
  readonly laid: LaidTune | null;
  readonly tempo: Tempo | null;
  readonly place: HarpPlace | null;
  /** All times through. */
  readonly seconds: number;
  /** Why it needs bends: none of the harps there are plays it with plain notes alone. */
  readonly noHarpPlain: boolean;
}

/** Another harp has to be taken between two tunes of a set. */
export interface HarpChange {
  /** Place in the set of the tune before. */
  readonly after: number;
  readonly from: HarpPlace;
  readonly to: HarpPlace;
  /** From the end of the last note to the beginning of the next: the time there is for it. */
  readonly seconds: number;
}

export interface PlannedSet {
  readonly set: DanceSet;
  readonly tunes: readonly PlannedTune[];
  readonly changes: readonly HarpChange[];
  readonly seconds: number;
}

/** A whole dance. */
export interface PlannedDance {
  readonly list: SetList;
  readonly sets: readonly PlannedSet[];
  readonly changes: number;
  /** What is played, without the breaks between sets. */
  readonly playedSeconds: number;
  /** With them. */
  readonly seconds: number;
}

/**
 * How long everything lasts and where another harp is needed.
 *
 * @param laidOf by id of the place in the list; null where the tune is no longer there
 */
export function planDance(list: SetList, laidOf: (tune: SetTune) => LaidTune | null): PlannedDance {
  const sets = list.sets.map((set) => planSet(set, laidOf));
  const playedSeconds = sum(sets.map(({ seconds }) => seconds));
  const breaks = sum(list.sets.slice(0, -1).map(({ breakSeconds }) => breakSeconds));
  return {
    list,
    sets,
    changes: sum(sets.map(({ changes }) => changes.length)),
    playedSeconds,
    seconds: playedSeconds + breaks,
  };
}

function planSet(set: DanceSet, laidOf: (tune: SetTune) => LaidTune | null): PlannedSet {
  const tunes = set.tunes.map((tune) => planTune(tune, laidOf(tune)));
  const pauses = set.pauseSeconds * Math.max(0, tunes.length - 1);
  return {
    set,
    tunes,
    changes: tunes.flatMap((next, place) => changeBetween(set, place - 1, tunes[place - 1], next)),
    seconds: sum(tunes.map(({ seconds }) => seconds)) + pauses,
  };
}

function planTune(tune: SetTune, laid: LaidTune | null): PlannedTune {
  if (laid === null) return { tune, laid, tempo: null, place: null, seconds: 0, noHarpPlain: false };
  const tempo = tune.bpm === undefined ? laid.tempo : { ...laid.tempo, bpm: bpm(tune.bpm) };
  return {
    tune,
    laid,
    tempo,
    place: laid.place,
    seconds: tune.times * lengthSeconds(laid.semibreves, tempo),
    noHarpPlain: !isPlain(laid.place) && !laid.onEach.some(isPlain),
  };
}

function changeBetween(
  { pauseSeconds }: DanceSet,
  after: number,
  before: PlannedTune | undefined,
  next: PlannedTune,
): readonly HarpChange[] {
  const [from, to] = [before?.place ?? null, next.place];
  if (from === null || to === null || from.key === to.key) return [];
  const tail = silence(before?.laid?.tailSemibreves, before?.tempo);
  const lead = silence(next.laid?.leadSemibreves, next.tempo);
  return [{ after, from, to, seconds: tail + pauseSeconds + lead }];
}

const silence = (length: number | undefined, tempo: Tempo | null | undefined) =>
  length === undefined || tempo === null || tempo === undefined ? 0 : lengthSeconds(length, tempo);

const sum = (numbers: readonly number[]) => numbers.reduce((total, one) => total + one, 0);
