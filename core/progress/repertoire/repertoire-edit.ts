import type { Harp } from "../../instrument/harp.ts";
import {
  BREAK_SECONDS,
  type DanceSet,
  PAUSE_SECONDS,
  type SetList,
  type SetTune,
} from "./repertoire-set-list.ts";

/** What can be changed of a tune in a set; undefined takes the choice back. */
export interface TuneChange {
  readonly times?: number;
  readonly bpm?: number | undefined;
  readonly harp?: Harp | undefined;
}

export type SetChange = Partial<Pick<DanceSet, "name" | "pauseSeconds" | "breakSeconds">>;

/** A set without tunes at the end of the list. */
export const addSet = (list: SetList, id: string, name: string): SetList => ({
  ...list,
  sets: [
    ...list.sets,
    { id, name, tunes: [], pauseSeconds: PAUSE_SECONDS.usual, breakSeconds: BREAK_SECONDS.usual },
  ],
});

export const removeSet = (list: SetList, id: string): SetList => ({
  ...list,
  sets: list.sets.filter((set) => set.id !== id),
});

export const changeSet = (list: SetList, id: string, change: SetChange): SetList =>
  withSet(list, id, (set) => ({ ...set, ...change }));

/** One place up (-1) or down (1); a set that is first or last stays where it is. */
export function moveSet(list: SetList, id: string, by: 1 | -1): SetList {
  const at = list.sets.findIndex((set) => set.id === id);
  return { ...list, sets: swapped(list.sets, at, at + by) };
}

/** A tune at the end of a set. */
export const addTune = (list: SetList, setId: string, tune: SetTune): SetList =>
  withSet(list, setId, (set) => ({ ...set, tunes: [...set.tunes, tune] }));

export const removeTune = (list: SetList, id: string): SetList => ({
  ...list,
  sets: list.sets.map((set) => ({ ...set, tunes: set.tunes.filter((tune) => tune.id !== id) })),
});

export const changeTune = (list: SetList, id: string, change: TuneChange): SetList => ({
  ...list,
  sets: list.sets.map((set) => ({
    ...set,
    tunes: set.tunes.map((tune) => (tune.id === id ? changed(tune, change) : tune)),
  })),
});

/** One place up (-1) or down (1); beyond the edge of its set into the next one, and at the edge of the list it stays. */
export function moveTune(list: SetList, id: string, by: 1 | -1): SetList {
  const from = list.sets.findIndex((set) => set.tunes.some((tune) => tune.id === id));
  const set = list.sets[from];
  const at = set?.tunes.findIndex((tune) => tune.id === id) ?? -1;
  const tune = set?.tunes[at];
  if (set === undefined || tune === undefined) return list;
  if (set.tunes[at + by] !== undefined)
    return withSet(list, set.id, () => ({ ...set, tunes: swapped(set.tunes, at, at + by) }));
  const beside = list.sets[from + by];
  if (beside === undefined) return list;
  const taken = removeTune(list, id);
  return withSet(taken, beside.id, (other) => ({
    ...other,
    tunes: by > 0 ? [tune, ...other.tunes] : [...other.tunes, tune],
  }));
}

/** The tunes of a set in another order, each on the harp that order asks for; null leaves the harp as it is. */
export function orderSet(
  list: SetList,
  setId: string,
  order: readonly { readonly place: number; readonly harp: Harp | null }[],
): SetList {
  return withSet(list, setId, (set) => ({
    ...set,
    tunes: order.flatMap(({ place, harp }) => {
      const tune = set.tunes[place];
      if (tune === undefined) return [];
      return [harp === null ? tune : { ...tune, harp }];
    }),
  }));
}

function changed(tune: SetTune, change: TuneChange): SetTune {
  const { bpm, harp, ...rest } = { ...tune, ...change };
  return { ...rest, ...(bpm === undefined ? {} : { bpm }), ...(harp === undefined ? {} : { harp }) };
}

const withSet = (list: SetList, id: string, change: (set: DanceSet) => DanceSet): SetList => ({
  ...list,
  sets: list.sets.map((set) => (set.id === id ? change(set) : set)),
});

function swapped<T>(all: readonly T[], one: number, other: number): readonly T[] {
  const [a, b] = [all[one], all[other]];
  if (a === undefined || b === undefined) return all;
  return all.map((each, place) => (place === one ? b : place === other ? a : each));
}
