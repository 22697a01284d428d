import { abcLines } from "./abc-body.ts";
import { abcHeader } from "./abc-header.ts";
import type { Tune } from "./tune.ts";

/**
 * Writes a tune as ABC 2.1. Bars that are played again become repeats and endings where that gives exactly the same order;
 * else they are written out. An accidental is repeated wherever "all octaves" and "this octave" would read another note.
 * What ABC has no words for is left out: that a key is not sure, that a tempo is only the dance's usual one.
 *
 * @returns the tune's lines, each ended by a line feed, the last too
 * @throws RangeError if notes overlap or a note's name has more than two accidentals
 */
export function writeAbc(tune: Tune): string {
  return `${[...abcHeader(tune), ...abcLines(tune).map(({ text }) => text)].join("\n")}\n`;
}
