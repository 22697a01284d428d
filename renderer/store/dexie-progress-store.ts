import { Dexie, type Table } from "dexie";
import type { DayTotal, GroupDay, ItemDay, ReedDay } from "../../core/progress/counts/roll-ups.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { ItemRow, Wish } from "../../core/progress/revisit/revisit.ts";
import type { ReedpathDatabase } from "./database.ts";
import { unpackGroupDay, unpackReedDay } from "./packed-rows.ts";
import type { OfGroups, ProgressStore } from "./progress-store.ts";
import { orTrouble } from "./store-trouble.ts";
import { written } from "./written.ts";

/** What the attempts come to, in the browser's database. */
export class DexieProgressStore implements ProgressStore {
  constructor(private readonly database: ReedpathDatabase) {}

  days(from: PracticeDay, to: PracticeDay): Promise<readonly DayTotal[]> {
    return orTrouble("the history", () =>
      this.database.days.where("day").between(from, to, true, true).toArray(),
    );
  }

  async groupDays(from: PracticeDay, to: PracticeDay, of?: OfGroups): Promise<readonly GroupDay[]> {
    return (await rowsOf(this.database.groupDays, from, to, of)).map(unpackGroupDay);
  }

  async reedDays(from: PracticeDay, to: PracticeDay, of?: OfGroups): Promise<readonly ReedDay[]> {
    return (await rowsOf(this.database.reedDays, from, to, of)).map(unpackReedDay);
  }

  itemDays(item: string): Promise<readonly ItemDay[]> {
    return orTrouble("the history", () =>
      this.database.itemDays
        .where("[item+day]")
        .between([item, Dexie.minKey], [item, Dexie.maxKey])
        .toArray(),
    );
  }

  items(): Promise<readonly ItemRow[]> {
    return orTrouble("the history", () => this.database.items.toArray());
  }

  wishes(): Promise<readonly Wish[]> {
    return orTrouble("the history", () => this.database.wishes.toArray());
  }

  async wish(wish: Wish): Promise<void> {
    await written(this.database, "the history", () => this.database.wishes.put(wish));
  }
}

/** By day; an index on the day alone gives that order by itself. */
function rowsOf<Row extends { readonly day: PracticeDay }>(
  table: Table<Row, [string, PracticeDay]>,
  from: PracticeDay,
  to: PracticeDay,
  { groups }: OfGroups = {},
): Promise<Row[]> {
  return orTrouble("the history", async () => {
    if (groups === undefined) return table.where("day").between(from, to, true, true).toArray();
    const each = await Promise.all(
      [...new Set(groups)].map((group) =>
        table.where("[group+day]").between([group, from], [group, to], true, true).toArray(),
      ),
    );
    return each.flat().sort((one, other) => (one.day < other.day ? -1 : one.day > other.day ? 1 : 0));
  });
}
