import type { ItemDay } from "../../core/progress/counts/roll-ups.ts";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import { type ItemRow, itemRowOf } from "../../core/progress/revisit/revisit.ts";
import { milliseconds } from "../../core/units.ts";

/** Noon of a day, in milliseconds since 1970. */
export const noon = (day: string): number => Date.parse(`${day}T12:00:00Z`);

/** A day of an item: first attempt with so many of so many right. */
export function itemDay(
  day: string,
  [hit, judged]: readonly [number, number] = [15, 15],
  {
    item = "scale",
    spreadMs = null as number | null,
    attempts = 1,
    what = {} as Partial<ItemDay["what"]>,
  } = {},
): ItemDay {
  const atEpochMs = noon(day);
  return {
    item,
    day: day as PracticeDay,
    what: {
      title: `The ${item}`,
      kind: "scale",
      position: 2,
      harp: "G harp",
      techniques: ["plain"],
      ...what,
    },
    attempts,
    first: {
      id: `${item} ${day} first`,
      atEpochMs,
      hit,
      judged,
      rightShare: judged < 8 ? null : hit / judged,
      spreadMs: spreadMs === null ? null : milliseconds(spreadMs),
    },
    last: { id: `${item} ${day} last`, atEpochMs: atEpochMs + 1000 },
    reached: null,
  };
}

/** The row of an item practised on these days. */
export const itemRow = (item: string, ...days: readonly string[]): ItemRow =>
  itemRowOf(days.map((day) => itemDay(day, [15, 15], { item })));
