import { type Seconds, seconds } from "../units.ts";
import type { TakeStart } from "./attempt.ts";
import { median } from "./statistics.ts";
import type { Stretch } from "./stretches.ts";

/** Onset differences this far apart still speak for the same start: the spread of a steady player, and some drift. */
const AGREEMENT_SECONDS = 0.08;
/** A player, and an unmeasured delay, are believed to be off by less than this or half a beat. */
const LEAST_BELIEVABLE_SECONDS = 0.25;
const LEAST_AGREEING_NOTES = 3;
/** The first notes tell where beat 0 lies, before a drift can. */
const FIRST_NOTES = 16;

/**
 * Where beat 0 lies in a take. Only a recording whose start nobody knows, and whose notes agree on another one than a
 * count-in would give, gets its beat 0 from the notes.
 *
 * @param first    the first notes played on end, or undefined without any
 * @param expected where beat 0 should be, and whether that is known or only assumed
 * @param stretch  seconds played for each second written
 */
export function findTakeStart(
  first: Stretch | undefined,
  expected: { readonly beatZeroSeconds: Seconds; readonly known: boolean },
  beatSeconds: Seconds,
  stretch: number,
): TakeStart {
  const given: TakeStart = { beatZeroSeconds: expected.beatZeroSeconds, source: "given" };
  if (expected.known || first === undefined) return given;
  const zeros = first.answers
    .slice(0, FIRST_NOTES)
    .map((answer) => answer.onSeconds - stretch * answer.writtenSeconds);
  const middle = median(zeros) ?? 0;
  const agreeing = zeros.filter((zero) => Math.abs(zero - middle) <= AGREEMENT_SECONDS).length;
  const believable = Math.max(LEAST_BELIEVABLE_SECONDS, beatSeconds / 2);
  const far = Math.abs(middle - expected.beatZeroSeconds) > believable;
  if (!far || agreeing < LEAST_AGREEING_NOTES || agreeing <= zeros.length / 2) return given;
  return { beatZeroSeconds: seconds(middle), source: "found" };
}
