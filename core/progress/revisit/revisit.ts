import { FSRSAlgorithm, type FSRSState, type Grade } from "ts-fsrs";
import { USUAL_RULE } from "../../exercise/tune-ladder.ts";
import type { ItemDay, ItemTry } from "../counts/roll-ups.ts";
import type { What } from "../counts/session-fact.ts";
import { daysAfter, daysFromTo, type PracticeDay } from "../practice-day.ts";

/**
 * When to come back to what was practised. The rule was found for the recall of facts; none is known for playing, so that it
 * is a guess at when to look in again and nothing more.
 */

/** What is known of one item over all its days: it follows from them, whatever order they come in. */
export interface ItemRow {
  readonly item: string;
  /** As on the last day. */
  readonly what: What;
  readonly firstDay: PracticeDay;
  readonly lastDay: PracticeDay;
  /** Days it was practised on, and attempts on all of them. */
  readonly days: number;
  readonly attempts: number;
  /** Days whose first attempt was a lapse. */
  readonly lapses: number;
  /** The first attempt of the last day. */
  readonly cold: ItemTry;
  /** What the last day says, by its first attempt. */
  readonly verdict: DayVerdict;
  /** The last attempt, to be opened again. */
  readonly last: { readonly id: string; readonly atEpochMs: number };
  readonly dueDay: PracticeDay;
}

/** "unjudged" where too little of the first attempt could be judged: such a day says nothing. */
export type DayVerdict = "held" | "lapsed" | "unjudged";

/** What a player wants of an item instead of its date; the latest holds. */
export type Wish =
  /** Not to be due until that is taken back. */
  | (WishOf & { readonly kind: "suspended" })
  /** To be due on a day, until it has been practised after this was wished. */
  | (WishOf & { readonly kind: "moved"; readonly toDay: PracticeDay })
  /** As the dates have it: an earlier wish is taken back. Kept, so that it outlives the earlier one in an archive. */
  | (WishOf & { readonly kind: "taken back" });

interface WishOf {
  /** At most one is kept of an item. */
  readonly item: string;
  readonly wishedAtEpochMs: number;
}

/**
 * Under this share of notes right the first attempt of a day is a lapse: the lower end of the 80 to 90 per cent that are
 * aimed at. Common practice, no source.
 */
export const LAPSE_RIGHT_SHARE = 0.8;
/** Beyond this spread of the onsets it is one too: what a tune's ladder asks for. */
export const LAPSE_SPREAD_MS = USUAL_RULE.spreadMs;
/** Nothing stays away for longer: half a year, by common practice, no source. */
export const LONGEST_AWAY_DAYS = 180;

/** Of the four answers the library knows only these two are given: an attempt says whether it held, not how hard it felt. */
const AGAIN: Grade = 1;
const GOOD: Grade = 3;

/**
 * Stability and difficulty by the weights ts-fsrs brings along (FSRS 6), without chance and without steps of minutes. Its
 * arithmetic is used on numbers of days; the cards around it would bring dates and the ways of a pile of cards.
 */
const algorithm = new FSRSAlgorithm({
  enable_fuzz: false,
  enable_short_term: false,
  maximum_interval: LONGEST_AWAY_DAYS,
});

/** Whether what is known held until a day, by the first attempt of it. */
export function verdictOf({ hit, judged, spreadMs }: ItemTry): DayVerdict {
  if (judged <= 0) return "unjudged";
  const slipped = hit / judged < LAPSE_RIGHT_SHARE - 1e-9;
  return slipped || (spreadMs !== null && spreadMs > LAPSE_SPREAD_MS) ? "lapsed" : "held";
}

/**
 * The row of an item from its days. One review a day, however many attempts; a day of which too little could be judged moves no
 * date, and an item with no other is due on the day after.
 *
 * @param days at least one, all of one item, each day once, in any order
 * @throws RangeError without any, or of several items
 */
export function itemRowOf(days: readonly ItemDay[]): ItemRow {
  const rising = [...days].sort((one, other) => daysFromTo(other.day, one.day));
  const [first, last] = [rising[0], rising.at(-1)];
  if (first === undefined || last === undefined) throw new RangeError("a row of no days");
  const other = rising.find(({ item }) => item !== first.item);
  if (other !== undefined) throw new RangeError(`a row of two items: ${first.item} and ${other.item}`);
  return {
    item: first.item,
    what: last.what,
    firstDay: first.day,
    lastDay: last.day,
    days: rising.length,
    attempts: rising.reduce((sum, { attempts }) => sum + attempts, 0),
    lapses: rising.filter((day) => verdictOf(day.first) === "lapsed").length,
    cold: last.first,
    verdict: verdictOf(last.first),
    last: last.last,
    dueDay: dueDayOf(rising, last.day),
  };
}

/** @param rising days of one item, the earliest first */
function dueDayOf(rising: readonly ItemDay[], lastDay: PracticeDay): PracticeDay {
  const judged = rising.filter((day) => verdictOf(day.first) !== "unjudged");
  const known = judged.reduce<Known | null>((before, { day, first }) => {
    const grade = verdictOf(first) === "lapsed" ? AGAIN : GOOD;
    const away = before === null ? 0 : daysFromTo(before.day, day);
    return { state: algorithm.next_state(before?.state ?? null, away, grade), day };
  }, null);
  if (known === null) return daysAfter(lastDay, 1);
  return daysAfter(known.day, algorithm.next_interval(known.state.stability, 0));
}

interface Known {
  readonly state: FSRSState;
  readonly day: PracticeDay;
}
