import { confidenceOfEach } from "../statistics/held-together.ts";
import { compareAll } from "../statistics/like-pairs.ts";
import { comparable, daysOf, placed } from "./comparable-days.ts";
import type { DayValue } from "./day-values.ts";

/** With fewer sessions it is too early to tell. Common practice, no source. */
export const LEAST_SESSIONS = 8;

/**
 * All intervals that are looked at together hold so many in a hundred of those who do not change. 95 are promised; the rest is
 * kept back for days that are a little like the day before, which no shuffling knows of.
 */
const TOGETHER = 0.96;

/** How many lines are judged, and what the interval of each must hold. */
export interface Claims {
  readonly judged: number;
  readonly confidence: number;
}

/** @param lines values of each line that may be judged; those of too few sessions are not */
export function claimsTogether(lines: readonly (readonly DayValue[])[]): Claims {
  const judged = lines.map(comparable).filter(({ days }) => days.length >= LEAST_SESSIONS);
  const all = daysOf(judged.flatMap(({ values }) => values));
  const compared = judged.map(({ values }) => compareAll(placed(values, all)));
  return { judged: judged.length, confidence: confidenceOfEach(compared, TOGETHER) };
}
