import { readRungId } from "../../exercise/tune-ladder.ts";
import { dayInWords, daysInWords } from "../plan/plan-words.ts";
import { dayNumber, daysFromTo, type PracticeDay } from "../practice-day.ts";
import type { ItemRow, Wish } from "./revisit.ts";

/** An item with the day it is due, seen from a day, and what the player is told of it. */
export interface DueItem {
  readonly row: ItemRow;
  readonly state: "due" | "later" | "suspended";
  readonly dueDay: PracticeDay;
  /** Days past that day; negative before it. */
  readonly overdueDays: number;
  /** Whether the player moved it there. */
  readonly moved: boolean;
  /** Why, as a sentence without a stop: "last on 3 November, first try 9 of 15; 25 days since". */
  readonly why: string;
}

/**
 * Every item as it stands on a day: due ones first, most overdue first, then those to come, then the suspended. A stretch of a
 * tune that held at a faster rung is not asked for slowly any more and is left out.
 *
 * @param wishes of one item the latest counts
 */
export function dueItems(
  rows: readonly ItemRow[],
  wishes: readonly Wish[],
  day: PracticeDay,
): readonly DueItem[] {
  const latest = latestWishes(wishes);
  const outgrown = outgrownItems(rows);
  return rows
    .filter(({ item }) => !outgrown.has(item))
    .map((row) => standing(row, latest.get(row.item), day))
    .sort(
      (one, other) =>
        STATES.indexOf(one.state) - STATES.indexOf(other.state) ||
        other.overdueDays - one.overdueDays ||
        (one.row.item < other.row.item ? -1 : 1),
    );
}

const STATES = ["due", "later", "suspended"] as const;

/** Items the player does not want to be asked for, whether they were ever practised or not. */
export function suspendedItems(wishes: readonly Wish[]): ReadonlySet<string> {
  const latest = [...latestWishes(wishes).values()];
  return new Set(latest.flatMap(({ kind, item }) => (kind === "suspended" ? [item] : [])));
}

function latestWishes(wishes: readonly Wish[]): ReadonlyMap<string, Wish> {
  const rising = [...wishes].sort((one, other) => one.wishedAtEpochMs - other.wishedAtEpochMs);
  return new Map(rising.map((wish) => [wish.item, wish]));
}

function standing(row: ItemRow, wish: Wish | undefined, day: PracticeDay): DueItem {
  // What was practised after it was moved has its own date again.
  const moved = wish?.kind === "moved" && wish.wishedAtEpochMs >= row.last.atEpochMs;
  const dueDay = moved ? wish.toDay : row.dueDay;
  const overdueDays = daysFromTo(dueDay, day);
  const state = wish?.kind === "suspended" ? "suspended" : overdueDays >= 0 ? "due" : "later";
  return { row, state, dueDay, overdueDays, moved, why: whyDue(row, day) };
}

/** "last on 3 November, first try 9 of 15; 25 days since". */
function whyDue({ lastDay, cold, verdict, what }: ItemRow, day: PracticeDay): string {
  const tried =
    verdict === "unjudged" ? "too little could be judged" : `first try ${cold.hit} of ${cold.judged}`;
  const uneven =
    verdict === "lapsed" && cold.spreadMs !== null && cold.spreadMs > 0
      ? `, ± ${cold.spreadMs.toFixed(0)} ms`
      : "";
  const made = what.demo === true ? " (made up)" : "";
  const since = daysFromTo(lastDay, day);
  return `last on ${dayInWords(lastDay, day)}, ${tried}${uneven}${made}; ${daysInWords(since)} since`;
}

/** Rungs of a tune below one of the same stretch that held when it was last tried, later than they were. */
function outgrownItems(rows: readonly ItemRow[]): ReadonlySet<string> {
  const fastest = new Map<string, { readonly share: number; readonly lastDay: PracticeDay }>();
  for (const { row, stretch, share } of rungsOf(rows)) {
    const known = fastest.get(stretch);
    if (row.verdict === "held" && (known === undefined || share > known.share))
      fastest.set(stretch, { share, lastDay: row.lastDay });
  }
  return new Set(
    rungsOf(rows).flatMap(({ row, stretch, share }) => {
      const above = fastest.get(stretch);
      const isLater = above !== undefined && dayNumber(above.lastDay) >= dayNumber(row.lastDay);
      return isLater && above.share > share ? [row.item] : [];
    }),
  );
}

function rungsOf(rows: readonly ItemRow[]) {
  return rows.flatMap((row) => {
    const { tuneId, rung, demo } = row.what;
    const read = rung === undefined ? null : readRungId(rung);
    if (tuneId === undefined || read === null) return [];
    const made = demo === true ? "made up " : "";
    const { startTicks, endTicks } = read.span;
    return [{ row, stretch: `${made}${tuneId} ${startTicks}-${endTicks}`, share: read.tempoShare }];
  });
}
