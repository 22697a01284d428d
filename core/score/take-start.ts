import type { Seconds } from "../units.ts";
import { seconds } from "../units.ts";
import type { Played, Written } from "./align.ts";
import type { TakeStart } from "./attempt.ts";

/** Onset differences this far apart still speak for the same start. */
const AGREEMENT_SECONDS = 0.05;
/** A player, and an unmeasured delay, are believed to be off by less than this. */
const LEAST_BELIEVABLE_SECONDS = 0.25;

/**
 * Where beat 0 lies in a take.
 *
 * A recording from this program begins with the count-in, so its beat 0 is known. A recording from elsewhere may begin
 * anywhere: if the notes agree on a start further from the expected one than half a beat (and a quarter second), the
 * start they agree on is taken, and said to be found.
 *
 * @param written onsets counted from beat 0, so `onSeconds` of the first is usually 0
 * @param played  heard notes on the take's clock
 * @param assumedSeconds where beat 0 should be
 */
export function findTakeStart(
  written: readonly Written[],
  played: readonly Played[],
  assumedSeconds: Seconds,
  beatSeconds: Seconds,
  rightNoteCents: number,
): TakeStart {
  const given: TakeStart = { beatZeroSeconds: assumedSeconds, source: "given" };
  const votes = startVotes(written, played, rightNoteCents);
  const best = mostAgreed(votes, assumedSeconds);
  if (best === null) return given;
  const believable = Math.max(LEAST_BELIEVABLE_SECONDS, beatSeconds / 2);
  if (Math.abs(best.atSeconds - assumedSeconds) <= believable) return given;
  const forGiven = agreement(votes, assumedSeconds, believable);
  // One stray coincidence must not move the start: more than half the played notes have to say so.
  if (best.count <= Math.max(2, played.length / 2) || best.count <= forGiven) return given;
  return { beatZeroSeconds: seconds(best.atSeconds), source: "found" };
}

/** For every right pitch, where beat 0 would be if this played note answered that written one. */
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

/** The start most votes lie around; of equals the one nearest the assumed. Votes ascend, so a sliding window counts them. */
function mostAgreed(votes: readonly number[], assumedSeconds: number): Agreement | null {
  let best: Agreement | null = null;
  let first = 0;
  let end = 0;
  for (const vote of votes) {
    while ((votes[first] ?? vote) < vote - AGREEMENT_SECONDS) first++;
    while (end < votes.length && (votes[end] ?? vote) <= vote + AGREEMENT_SECONDS) end++;
    const count = end - first;
    const middle = votes[(first + end) >> 1] ?? vote;
    const closer =
      best !== null && Math.abs(middle - assumedSeconds) < Math.abs(best.atSeconds - assumedSeconds);
    if (best === null || count > best.count || (count === best.count && closer)) {
      best = { atSeconds: middle, count };
    }
  }
  return best;
}

const agreement = (votes: readonly number[], around: number, within: number) =>
  votes.filter((vote) => Math.abs(vote - around) <= within).length;
