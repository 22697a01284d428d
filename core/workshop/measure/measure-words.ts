import { actionInWords } from "../../instrument/tab.ts";
import { median } from "../../listen/median.ts";
import { AGREE_CENTS, READINGS_WANTED } from "./agreement.ts";
import type { PairBeats } from "./beats.ts";
import { plainAction } from "./harp-sounds.ts";
import type { HeardBeats, NotSure } from "./heard-beats.ts";
import type { ReedPlace, Unfit } from "./reed-reading.ts";
import { IN_TUNE_CENTS, type ReedResult } from "./reed-results.ts";

export const reedInWords = (place: ReedPlace): string => actionInWords(plainAction(place));

/** "+3.4 cents", with a true minus. */
export function centsInWords(value: number, decimals = 1): string {
  const text = Math.abs(value).toFixed(decimals);
  if (Number(text) === 0) return "0 cents";
  return `${value > 0 ? "+" : "−"}${text} cents`;
}

const FEW = 3;

/** What a measurement comes to, the gravest first, a sentence each. */
export function resultsInWords(results: readonly ReedResult[]): readonly string[] {
  const measured = results.filter(({ offsetCents }) => offsetCents !== null);
  const failing = measured.filter((result) => result.failing);
  const sound = measured.filter((result) => !result.failing);
  const open = results.filter((result) => result.outcome === null && result.offsetCents === null);
  return [
    ...failing.map(failingInWords),
    ...brokenInWords(results),
    `${measured.length} of ${results.length} reeds measured.`,
    ...(sound.length === 0 ? [] : [lieInWords(sound)]),
    ...farthestInWords(sound),
    ...unsteadyInWords(sound),
    ...seldomInWords(sound),
    ...(open.length === 0 ? [] : [`Not heard: ${listInWords(open.map(reedInWords))}.`]),
  ];
}

function failingInWords(result: ReedResult): string {
  const off = Math.abs(result.offsetCents ?? 0).toFixed(0);
  return `${reedInWords(result)} sounds ${off} cents below its note. If nobody tuned it so, the reed is failing: replace it, do not tune it.`;
}

function brokenInWords(results: readonly ReedResult[]): readonly string[] {
  const told = results.filter(({ outcome }) => outcome === "silent" || outcome === "broken");
  const high = results.filter(({ outcome }) => outcome === "too high");
  return [
    ...told.map((result) => `${reedInWords(result)} is said to be ${result.outcome}.`),
    ...(high.length === 0
      ? []
      : [`Too high to be measured, above G7: ${listInWords(high.map(reedInWords))}.`]),
  ];
}

/** How the harp lies as a whole. */
function lieInWords(sound: readonly ReedResult[]): string {
  const offsets = sound.map(({ offsetCents }) => offsetCents ?? 0);
  const middle = median(offsets);
  const within = offsets.filter((off) => Math.abs(off) <= IN_TUNE_CENTS).length;
  return `In the middle they lie ${centsInWords(middle)} from their notes; ${within} within ${IN_TUNE_CENTS} cents.`;
}

function farthestInWords(sound: readonly ReedResult[]): readonly string[] {
  const off = sound
    .filter(({ offsetCents }) => Math.abs(offsetCents ?? 0) > IN_TUNE_CENTS)
    .sort((a, b) => Math.abs(b.offsetCents ?? 0) - Math.abs(a.offsetCents ?? 0));
  if (off.length === 0) return [];
  const told = off.slice(0, FEW).map((one) => `${reedInWords(one)} ${centsInWords(one.offsetCents ?? 0)}`);
  return [`Farthest off: ${listInWords(told)}.`];
}

function unsteadyInWords(sound: readonly ReedResult[]): readonly string[] {
  const unsteady = sound.filter(({ read }) => read !== null && !read.agreed && read.rangeCents > AGREE_CENTS);
  return unsteady.map(
    (result) =>
      `${reedInWords(result)}: its notes differ by ${(result.read?.rangeCents ?? 0).toFixed(1)} cents; measure it again.`,
  );
}

/** Too few notes to compare, none of which disagree. */
function seldomInWords(sound: readonly ReedResult[]): readonly string[] {
  const seldom = sound.filter(({ read }) => read !== null && !read.agreed && read.rangeCents <= AGREE_CENTS);
  if (seldom.length === 0) return [];
  return [
    `Heard less than ${READINGS_WANTED} times, and so less sure: ${listInWords(seldom.map(reedInWords))}.`,
  ];
}

export function listInWords(words: readonly string[]): string {
  const last = words.at(-1) ?? "";
  return words.length < 2 ? last : `${words.slice(0, -1).join(", ")} and ${last}`;
}

/** Why a note did not count, as what to do. */
export const UNFIT_WORDS: Readonly<Record<Unfit, string>> = {
  "no steady pitch": "No steady note yet: hold one evenly.",
  "too short": "A little longer: about a second.",
  "too quiet": "Too soft to be read.",
  unsteady: "It wavers: relaxed, even breath, mouth open.",
  "two reeds": "Two holes sound: this hole alone.",
};

const INTERVALS: Readonly<Record<number, string>> = {
  0: "unison",
  3: "minor third",
  4: "major third",
  5: "fourth",
  7: "fifth",
  8: "minor sixth",
  9: "major sixth",
  12: "octave",
};

/** "octave", "fifth", "octave and a fifth". */
export function intervalInWords(semitones: number): string {
  const own = INTERVALS[semitones];
  if (own !== undefined) return own;
  const octaves = Math.floor(semitones / 12);
  const rest = semitones % 12;
  const first = octaves === 1 ? "octave" : `${octaves} octaves`;
  return rest === 0 ? first : `${first} and a ${INTERVALS[rest] ?? "rest"}`;
}

export const beatsInWords = (perSecond: number): string => `${perSecond.toFixed(1)} a second`;

const NOT_SURE: Readonly<Record<NotSure, string>> = {
  "too short": "too short: hold both for three seconds",
  "too soft": "too soft",
  "the beats do not keep one rate": "the beats do not keep one rate: hold both evenly",
  "two rates fit alike": "two rates fit it alike: hold both longer",
};

/** What was heard of two reeds together, beside what was calculated. */
export function heardInWords(heard: HeardBeats, pair: PairBeats): string {
  const calculated =
    pair.measured === null ? "" : ` Calculated from the reeds: ${beatsInWords(pair.measured)}.`;
  switch (heard.kind) {
    case "beats": {
      const between = `${heard.from.toFixed(2)} to ${heard.to.toFixed(2)}`;
      return `Heard: ${beatsInWords(heard.perSecond)} (${between}).${calculated}`;
    }
    case "none":
      return `No beats heard, at least none faster than ${beatsInWords(heard.slowerThanPerSecond)}: as good as pure, or one of the two does not sound.${calculated}`;
    case "not sure":
      return `Not sure: ${NOT_SURE[heard.why]}.${calculated}`;
  }
}
