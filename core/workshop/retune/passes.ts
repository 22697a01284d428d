import { type Cents, cents, type Hz, hz } from "../../units.ts";
import type { ReedPlace } from "../measure/reed-reading.ts";
import { pairedReeds, type ReedPair } from "./pairs.ts";
import { isSmall, isWithin, type PlannedReed, tunedCents } from "./reed-work.ts";
import { pairsLast, safestFirst } from "./work-order.ts";

/** Three passes at least, about a week between them, longer after large changes (Tuning a harmonica to a professional standard, 2007). */
export const LEAST_PASSES = 3;
export const MOST_PASSES = 6;
const REST_DAYS = 7;
/** What "longer" is, is our own measure. */
const LONG_REST_DAYS = 14;

/** One sitting at the bench. */
export interface Pass {
  /** Counted from 1. */
  readonly number: number;
  /** In the order of the work. */
  readonly steps: readonly PassStep[];
  /** Days the harp rests before the next pass; 0 after the last. */
  readonly restDays: number;
}

/** What one reed is brought to in a pass. */
export interface PassStep extends ReedPlace {
  /** Read again only: what is left to do is less than can be told, and waits for a later pass. */
  readonly onlyCheck: boolean;
  /** How far short of its goal the reed is left, in the direction of the work; 0 in the last pass. */
  readonly shortCents: Cents;
  /** What the meter, set to the wanted A4, reads then, from the wanted note. */
  readonly aimCents: Cents;
  readonly aimHz: Hz;
}

/**
 * The passes. A reed is left short of its goal and rests before it is finished: a raised one creeps further up after a while,
 * a lowered one tends to stay (harp-l list archive, December 2007, msg 21), so the lowered one is left less short. Of that a
 * third is left after each pass, nothing after the last. In the last pass octaves and unisons come last. The shares are our own.
 *
 * @param passes LEAST_PASSES to MOST_PASSES
 */
export function passesOf(
  reeds: readonly PlannedReed[],
  pairs: readonly ReedPair[],
  passes: number,
  toleranceCents: number,
): readonly Pass[] {
  const ordered = safestFirst(reeds);
  if (ordered.length === 0) return [];
  const last = pairsLast(ordered, pairedReeds(pairs));
  return Array.from({ length: passes }, (_, index) => {
    const number = index + 1;
    const isLast = number === passes;
    const inOrder = isLast ? last : ordered;
    const large = inOrder.some((reed) => !isSmall(moveIn(reed, number, passes)));
    return {
      number,
      steps: inOrder.map((reed) => stepOf(reed, number, passes, toleranceCents)),
      restDays: isLast ? 0 : large ? LONG_REST_DAYS : REST_DAYS,
    };
  });
}

function stepOf(reed: PlannedReed, number: number, passes: number, toleranceCents: number): PassStep {
  const { hole, breath, wantedCents, wantedHz } = reed.change;
  const change = tunedCents(reed.change, reed.work);
  const short = shortAfter(change, number, passes) * Math.sign(change);
  return {
    hole,
    breath,
    onlyCheck: number < passes && isWithin(moveIn(reed, number, passes), toleranceCents),
    shortCents: cents(Math.abs(short)),
    aimCents: cents(wantedCents - short),
    aimHz: hz(wantedHz * 2 ** (-short / 1200)),
  };
}

/** What a pass moves a reed by, in cents without sign. */
function moveIn({ change, work }: PlannedReed, number: number, passes: number): number {
  const all = tunedCents(change, work);
  const before = number === 1 ? Math.abs(all) : shortAfter(all, number - 1, passes);
  return before - shortAfter(all, number, passes);
}

/** Shares of the change a reed is left short by after the first pass, with bounds in cents. */
const RAISED = { share: 0.1, least: 5, most: 20 } as const;
const LOWERED = { share: 0.05, least: 3, most: 10 } as const;
const LEFT_AFTER_EACH = 1 / 3;

function shortAfter(change: number, number: number, passes: number): number {
  if (number >= passes) return 0;
  const { share, least, most } = change > 0 ? RAISED : LOWERED;
  const size = Math.abs(change);
  const first = Math.min(Math.max(share * size, least), most, size / 2);
  return first * LEFT_AFTER_EACH ** (number - 1);
}
