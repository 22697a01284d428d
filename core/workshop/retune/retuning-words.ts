import { type Harp, harpName } from "../../instrument/harp.ts";
import { intervalInWords, reedInWords } from "../measure/measure-words.ts";
import type { ReedPair } from "./pairs.ts";
import type { ValveChange } from "./reed-change.ts";
import type { ReedWork } from "./reed-work.ts";
import type { RetuningPlan } from "./retuning-plan.ts";

/** Whole cents with their sign: "+200", "-14", "0". */
export function signedCents(value: number): string {
  const whole = Math.round(value);
  return whole > 0 ? `+${whole}` : String(whole === 0 ? 0 : whole);
}

/** What is done to a reed, short enough for a cell of a table; `WORK_MEANS` says it in full. */
export function workInWords(work: ReedWork): string {
  switch (work.kind) {
    case "leave":
      return "leave";
    case "raise":
      return "raise, at the tip";
    case "lower":
      return work.mass ? "lower, mass at the tip" : "lower, at the base";
    case "swap":
      return work.why === "past the limit" ? "swap" : "replace";
  }
}

/** What the words of `workInWords` mean, for those of them a plan has. */
export function workMeans(works: readonly ReedWork[]): readonly string[] {
  return WORK_MEANS.filter(({ words }) => works.some((work) => workInWords(work) === words)).map(
    ({ words, means }) => `${words}: ${means}`,
  );
}

/** Sources: Handbook web extract "How to tune your harmonica"; Hansson, How I tune harmonicas, part 1 (fallen reeds); the rest is common practice. */
const WORK_MEANS: readonly { readonly words: string; readonly means: string }[] = [
  { words: "raise, at the tip", means: "metal off the flat of the reed near its free tip" },
  {
    words: "lower, at the base",
    means: "metal off near the base, where the reed is fixed; a little at a time",
  },
  {
    words: "lower, mass at the tip",
    means: "a low reed bears little off its base: put a little mass on near the free tip",
  },
  { words: "swap", means: "too far to tune: another reed, or a plate of another key, takes its place" },
  { words: "replace", means: "it has fallen a semitone or more by itself and is failing: it is not tuned" },
];

/** Where a reed to swap in comes from, and what is left to tune on it; null where no harp has one. */
export function donorInWords(work: ReedWork): string | null {
  if (work.kind !== "swap" || work.donor === null) return null;
  const { harp, changeCents } = work.donor;
  const left = Math.round(changeCents) === 0 ? "nothing to tune" : `then ${signedCents(changeCents)} cents`;
  return `from the same place on: ${harpName(harp)}, ${left}`;
}

/** "rest a week", "rest two weeks"; empty after the last pass. */
export function restInWords(restDays: number): string {
  if (restDays === 0) return "";
  return restDays <= 7 ? "rest a week" : "rest two weeks";
}

/** "3 blow and 6 blow, octave". */
export const pairInWords = (pair: ReedPair) =>
  `${reedInWords(pair.low)} and ${reedInWords(pair.high)}, ${intervalInWords(pair.interval)}`;

/** How a pair beats when it is right. */
export function beatsInWords({ beatsPerSecond, together }: ReedPair): string {
  if (!together) return "one after the other, by meter";
  if (beatsPerSecond < 0.05) return "no beat";
  if (beatsPerSecond > MOST_COUNTED) return `rough, ${Math.round(beatsPerSecond)} a second`;
  return `${beatsPerSecond.toFixed(1)} a second`;
}

/** Quicker beats are a roughness that nobody counts. Common practice, no source. */
const MOST_COUNTED = 10;

/** "put on the valve of 3 draw". */
export const valveInWords = ({ change, ...place }: ValveChange) =>
  `${change === "put on" ? "put a valve on" : "take the valve off"} ${reedInWords(place)}`;

/** Two harps by name, with their A where it is not the same. */
export function wayInWords(from: Harp, to: Harp): string {
  const a4 = (harp: Harp) => (from.a4 === to.a4 ? "" : ` at A ${harp.a4} Hz`);
  return `${harpName(from)}${a4(from)} to ${harpName(to)}${a4(to)}`;
}

/** The plan in one sentence. */
export function planInWords({ sums, reeds, passes }: RetuningPlan): string {
  if (sums.worked === 0) return `All ${reeds.length} reeds are near enough as they are.`;
  const { worked, swapped, totalCents, largestCents, days } = sums;
  const some = `${worked} of ${reeds.length} reeds`;
  const swap = swapped === 0 ? "" : `, ${swapped} of them to swap`;
  return `${some}${swap}: ${Math.round(totalCents)} cents in all, ${Math.round(largestCents)} at most, in ${passes.length} passes over ${days} days.`;
}
