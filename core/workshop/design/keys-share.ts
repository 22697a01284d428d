import type { Harp } from "../../instrument/harp.ts";
import type { Layout } from "../../instrument/layout.ts";
import { PLAIN_ONLY } from "../../instrument/reed-actions.ts";
import { noBits, numbersIn } from "../../path/bits.ts";
import { coverage } from "../../path/coverage.ts";
import { harpsToTry } from "../../path/harps-to-try.ts";
import type { Progress } from "../../path/long-work.ts";
import { allOf, widestCover } from "../../path/widest-cover.ts";
import type { Tune } from "../../tune/tune.ts";

/** So many keys of a layout cover most of a traditional repertoire. Common practice, no source. */
export const KEYS_TO_OWN = 4;

/** What a few keys of one layout play without any bend. */
export interface KeysShare {
  /** The keys that play most together, `KEYS_TO_OWN` of them or fewer where fewer play as much. */
  readonly harps: readonly Harp[];
  /** Tunes they play, as written or an octave away. */
  readonly tunes: number;
  readonly of: number;
  /** Tunes all twelve keys play. */
  readonly allKeys: number;
  /** False where other keys might play more. */
  readonly proved: boolean;
}

/** The keys of a layout, usual register, that together play most tunes without a bend: an exact search. */
export function* keysShare(tunes: readonly Tune[], layout: Layout): Generator<Progress, KeysShare> {
  const harps = harpsToTry({ layouts: [layout] });
  const sets = yield* coverage(tunes, harps, { abilities: PLAIN_ONLY });
  const everything = allOf(sets, noBits(tunes.length));
  const { chosen, covered, proved } = yield* widestCover(sets, everything, KEYS_TO_OWN);
  return {
    harps: chosen.flatMap((place) => harps[place] ?? []),
    tunes: covered,
    of: tunes.length,
    allKeys: numbersIn(everything).length,
    proved,
  };
}
