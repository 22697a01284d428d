import type { PracticeDay } from "../practice-day.ts";
import { LEAST_SESSIONS } from "../trends/claims-together.ts";
import type { TrendLine } from "../trends/trend.ts";
import type { Spot } from "./weak-spot.ts";

const in100 = (share: number) => Math.round(100 * share).toString();

/** "14 of 60 notes in trouble, 23 in 100 (14 to 35); the usual is 9 in 100." */
export function spotInWords({ asked, troubled, share, usual }: Spot): string {
  const interval = `${in100(share.low)} to ${in100(share.high)}`;
  return `${troubled} of ${asked} notes in trouble, ${in100(share.share)} in 100 (${interval}); the usual is ${in100(usual)} in 100.`;
}

/** What became of a spot: told from first attempts after the day it was picked. */
export function sinceInWords(
  { change, sessions, notes, verdict }: Omit<TrendLine, "words">,
  pickedOn: PracticeDay,
  judged: number,
): string {
  const since = `Since ${pickedOn}, first attempt of each day`;
  if (change === null) {
    const least = sessions < LEAST_SESSIONS ? `, ${LEAST_SESSIONS} are needed` : "";
    return `${since}: too early to tell, ${sessions} ${sessions === 1 ? "session" : "sessions"}${least}.`;
  }
  const { from, to, low, high } = change;
  const size = (value: number) => in100(Math.abs(value));
  const moved =
    verdict === "no clear change"
      ? `between ${size(low)} less and ${size(high)} more`
      : high < 0
        ? `${size(high)} to ${size(low)} less`
        : `${size(low)} to ${size(high)} more`;
  const sure = judged > 1 ? `95 in 100 for all ${judged} spots together` : "95 in 100";
  const end = verdict === "no clear change" ? ": no clear change." : ".";
  return `${since}: ${in100(from)} to ${in100(to)} notes in 100 in trouble beyond the other notes' share over ${sessions} sessions (${notes} notes), ${moved} (${sure})${end}`;
}
