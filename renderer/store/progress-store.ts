import type { DayTotal, GroupDay, ItemDay, ReedDay } from "../../core/progress/counts/roll-ups.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { ItemRow, Wish } from "../../core/progress/revisit/revisit.ts";

/** Which rows of groups are wanted. */
export interface OfGroups {
  /** These groups alone; all where absent. */
  readonly groups?: readonly string[];
}

/**
 * What the attempts come to, kept with every one of them. Days are both included; rows come by day, oldest first. Every verb
 * rejects with a StoreTrouble when it cannot do its work.
 */
export interface ProgressStore {
  /** Days without practice are absent. */
  days(from: PracticeDay, to: PracticeDay): Promise<readonly DayTotal[]>;
  groupDays(from: PracticeDay, to: PracticeDay, of?: OfGroups): Promise<readonly GroupDay[]>;
  reedDays(from: PracticeDay, to: PracticeDay, of?: OfGroups): Promise<readonly ReedDay[]>;
  /** All days of an item. */
  itemDays(item: string): Promise<readonly ItemDay[]>;
  /** One row for everything that was ever practised, in no order. */
  items(): Promise<readonly ItemRow[]>;
  /** What the player wants otherwise than the dates have it, at most one of an item. */
  wishes(): Promise<readonly Wish[]>;
  /** Keeps a wish in place of the item's earlier one. */
  wish(wish: Wish): Promise<void>;
}
