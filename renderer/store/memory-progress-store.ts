import {
  type DayTotal,
  type GroupDay,
  type ItemDay,
  type ReedDay,
  rollUp,
} from "../../core/progress/counts/roll-ups.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import { type ItemRow, itemRowOf, type Wish } from "../../core/progress/revisit/revisit.ts";
import type { MemoryHistoryStore } from "./memory-history-store.ts";
import type { OfGroups, ProgressStore } from "./progress-store.ts";

/** What the attempts in memory come to, counted anew each time. */
export class MemoryProgressStore implements ProgressStore {
  private readonly wished = new Map<string, Wish>();

  constructor(private readonly history: MemoryHistoryStore) {}

  async days(from: PracticeDay, to: PracticeDay): Promise<readonly DayTotal[]> {
    return within(this.rollUps().days.values(), from, to);
  }

  async groupDays(from: PracticeDay, to: PracticeDay, of: OfGroups = {}): Promise<readonly GroupDay[]> {
    return within(this.rollUps().groupDays.values(), from, to).filter(ofGroups(of));
  }

  async reedDays(from: PracticeDay, to: PracticeDay, of: OfGroups = {}): Promise<readonly ReedDay[]> {
    return within(this.rollUps().reedDays.values(), from, to).filter(ofGroups(of));
  }

  async itemDays(item: string): Promise<readonly ItemDay[]> {
    return byDay([...this.rollUps().itemDays.values()].filter((day) => day.item === item));
  }

  async items(): Promise<readonly ItemRow[]> {
    const days = [...this.rollUps().itemDays.values()];
    const items = new Set(days.map(({ item }) => item));
    return [...items].map((item) => itemRowOf(days.filter((day) => day.item === item)));
  }

  async wishes(): Promise<readonly Wish[]> {
    return [...this.wished.values()];
  }

  async wish(wish: Wish): Promise<void> {
    this.wished.set(wish.item, wish);
  }

  private rollUps() {
    return rollUp(this.history.facts());
  }
}

interface OfDay {
  readonly day: PracticeDay;
}

const byDay = <Row extends OfDay>(rows: readonly Row[]): readonly Row[] =>
  [...rows].sort((one, other) => (one.day < other.day ? -1 : one.day > other.day ? 1 : 0));

const within = <Row extends OfDay>(rows: Iterable<Row>, from: PracticeDay, to: PracticeDay): readonly Row[] =>
  byDay([...rows].filter(({ day }) => day >= from && day <= to));

const ofGroups =
  ({ groups }: OfGroups) =>
  ({ group }: { readonly group: string }) =>
    groups === undefined || groups.includes(group);
