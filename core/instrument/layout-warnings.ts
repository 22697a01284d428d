import { degreeOf } from "../pitch/modes.ts";
import { type Layout, type Reed, reedsOf } from "./layout.ts";

/** Something unusual about a layout that may well be meant. */
export interface LayoutWarning {
  readonly kind: "unequal octaves" | "unison" | "wide gap" | "no reed" | "short name";
  /** Holes concerned, from 1. */
  readonly holes: readonly number[];
  /** One line a player reads. */
  readonly text: string;
}

/** Beyond this the lower part of a hole's bends is hardly playable and the reeds disturb each other. Common practice. */
const WIDEST_GAP_SEMITONES = 5;

/** What is unusual about a layout, hole by hole, then between octaves; empty for the standard one. */
export function layoutWarnings(layout: Layout): readonly LayoutWarning[] {
  return [...layout.holes.flatMap((_, index) => holeWarnings(layout, index + 1)), ...octaveWarnings(layout)];
}

function holeWarnings(layout: Layout, number: number): readonly LayoutWarning[] {
  const hole = layout.holes[number - 1];
  if (hole === undefined) return [];
  if (hole.blow === null && hole.draw === null) {
    return [{ kind: "no reed", holes: [number], text: `hole ${number}: has no reed` }];
  }
  if (hole.blow === null || hole.draw === null) return [];
  const gap = Math.abs(hole.draw - hole.blow);
  if (gap === 0) {
    const text = `hole ${number}: blow and draw are the same note, so it neither bends nor overblows`;
    return [{ kind: "unison", holes: [number], text }];
  }
  if (gap <= WIDEST_GAP_SEMITONES) return [];
  const text = `hole ${number}: blow and draw lie ${gap} semitones apart, more than ${WIDEST_GAP_SEMITONES}`;
  return [{ kind: "wide gap", holes: [number], text }];
}

/**
 * Degrees that one octave has only raised or natural and another only the other way, such as a 4th raised in the middle
 * octave alone. Layouts that have both forms throughout (diminished, augmented) are not meant by this.
 */
function octaveWarnings(layout: Layout): readonly LayoutWarning[] {
  const byDegree = groups(reedsOf(layout), (reed) => fourthsAndOthers(reed).replace(/^[b#]+/, ""));
  return byDegree.flatMap((reeds) => {
    const pair = differingPair(reeds);
    if (pair === null) return [];
    const [one, other] = pair;
    const text = `octaves differ: ${inWords(one)}, but ${inWords(other)}`;
    return [{ kind: "unequal octaves" as const, holes: [one.hole, other.hole], text }];
  });
}

/** "5 draw is #4 of the key". */
const inWords = (reed: Reed) => `${reed.hole} ${reed.breath} is ${fourthsAndOthers(reed)} of the key`;

/** Here the tritone counts as a raised fourth, because country tuning and its like raise fourths. */
const fourthsAndOthers = (reed: Reed) => degreeOf(reed.sounds).name.replace("b5", "#4");

function differingPair(reeds: readonly Reed[]): readonly [Reed, Reed] | null {
  const octaves = groups(reeds, (reed) => Math.floor(reed.sounds / 12));
  const single = octaves.filter((octave) => new Set(octave.map(step)).size === 1).flat();
  const first = single[0];
  const other = single.find((reed) => first !== undefined && step(reed) !== step(first));
  return first === undefined || other === undefined ? null : [first, other];
}

const step = (reed: Reed) => ((reed.sounds % 12) + 12) % 12;

function groups<T>(all: readonly T[], keyOf: (one: T) => string | number): readonly (readonly T[])[] {
  const keys = [...new Set(all.map(keyOf))];
  return keys.map((key) => all.filter((one) => keyOf(one) === key));
}
