import { type Seconds, seconds } from "../units.ts";
import type { Played, Written } from "./align.ts";
import type { TakeStart } from "./attempt.ts";

/** Onset differences this far apart still speak for the same start: the spread of a steady player, and some drift. */
const AGREEMENT_SECONDS = 0.08;
/** A player, and an unmeasured delay, are believed to be off by less than this or half a beat. */
const LEAST_BELIEVABLE_SECONDS = 0.25;
const LEAST_AGREEING_NOTES = 3;

/** Where a take begins, and where its notes say they begin. */
export interface FoundStart {
  readonly start: TakeStart;
  /** Beat 0 as the played notes have it: what they are paired with the written ones by. */
  readonly playedFromSeconds: Seconds;
}

/**
 * Where beat 0 lies in a take.
 *
 * If most of the right pitches agree on one shift, written and played notes are paired at that shift, so that a
 * steady delay, however long, makes no wrong notes; the delay itself stays in every mark. Only a recording whose start
 * nobody knows, and whose notes agree on another one than a count-in would give, gets its beat 0 from the notes.
 *
 * @param written onsets counted from beat 0, so `onSeconds` of the first is usually 0
 * @param played  heard notes on the take's clock
 * @param expected where beat 0 should be, and whether that is known or only assumed
 */
export function findTakeStart(
  written: readonly Written[],
  played: readonly Played[],
  expected: { readonly beatZeroSeconds: Seconds; readonly known: boolean },
  beatSeconds: Seconds,
  rightNoteCents: number,
): FoundStart {
  const given: TakeStart = { beatZeroSeconds: expected.beatZeroSeconds, source: "given" };
  const votes = startVotes(written, played, rightNoteCents);
  const best = mostAgreed(votes, expected.beatZeroSeconds);
  const most = Math.min(written.length, played.length) / 2;
  // One stray coincidence must not move the start: more than half of the notes have to say so.
  if (best === null || best.count < LEAST_AGREEING_NOTES || best.count <= most) {
    return { start: given, playedFromSeconds: expected.beatZeroSeconds };
  }
  const playedFromSeconds = seconds(best.atSeconds);
  const believable = Math.max(LEAST_BELIEVABLE_SECONDS, beatSeconds / 2);
  const far = Math.abs(best.atSeconds - expected.beatZeroSeconds) > believable;
  if (expected.known || !far) return { start: given, playedFromSeconds };
  return { start: { beatZeroSeconds: playedFromSeconds, source: "found" }, playedFromSeconds };
}

/** For every right pitch, where beat 0 would be if this played note answered that written one; ascending. */
function startVotes(
  written: readonly Written[],
  played: readonly Played[],
  rightNoteCents: number,
): readonly number[] {
  const votes = played.flatMap((heard) =>
    written
      .filter((asked) => heard.midi !== null && Math.abs(heard.midi - asked.midi) * 100 <= rightNoteCents)
      .map((asked) => heard.onSeconds - asked.onSeconds),
  );
  return votes.sort((a, b) => a - b);
}

interface Agreement {
  readonly atSeconds: number;
  readonly count: number;
}

/** The start most votes lie around; of equals the one nearest the expected. Votes ascend, so a sliding window counts them. */
function mostAgreed(votes: readonly number[], expectedSeconds: number): Agreement | null {
  let best: Agreement | null = null;
  let first = 0;
  let end = 0;
  for (const vote of votes) {
    while ((votes[first] ?? vote) < vote - AGREEMENT_SECONDS) first++;
    while (end < votes.length && (votes[end] ?? vote) <= vote + AGREEMENT_SECONDS) end++;
    const count = end - first;
    const middle = votes[(first + end) >> 1] ?? vote;
    const closer =
      best !== null && Math.abs(middle - expectedSeconds) < Math.abs(best.atSeconds - expectedSeconds);
    if (best === null || count > best.count || (count === best.count && closer)) {
      best = { atSeconds: middle, count };
    }
  }
  return best;
}
