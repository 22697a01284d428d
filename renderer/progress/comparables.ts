import type { Position } from "../../core/instrument/positions.ts";
import { positionName } from "../../core/instrument/positions.ts";
import { bandInWords } from "../../core/progress/counts/likeness.ts";
import type { GroupDay, ReedDay } from "../../core/progress/counts/roll-ups.ts";
import type { Scope } from "../../core/progress/trends/trend.ts";
import type { Comparable, Order, ScopeKind } from "./progress-view.ts";

/**
 * What of one kind was practised in a range of days and can be compared with itself.
 *
 * @param rows oldest first
 */
export function comparablesOf(
  kind: Exclude<ScopeKind, "reed" | "pair">,
  rows: readonly GroupDay[],
  order: Order,
): readonly Comparable[] {
  const found = new Map<string, Comparable & { readonly seen: Set<string> }>();
  for (const row of rows) {
    const scope = scopeOf(kind, row);
    if (scope === null) continue;
    const key = JSON.stringify(scope);
    const known = found.get(key) ?? {
      scope,
      words: wordsOf(kind, row),
      days: 0,
      practisedMs: 0,
      lastDay: row.day,
      seen: new Set(),
    };
    known.seen.add(row.day);
    found.set(key, {
      ...known,
      days: known.seen.size,
      practisedMs: known.practisedMs + row.practisedMs,
      lastDay: row.day,
    });
  }
  return inOrder(
    [...found.values()].map(({ seen: _, ...one }) => one),
    order,
  );
}

function scopeOf(kind: Exclude<ScopeKind, "reed" | "pair">, { group, item, what }: GroupDay): Scope | null {
  switch (kind) {
    case "all":
      return { kind };
    case "group":
      return { kind, group };
    case "item":
      return { kind, item };
    case "position":
      return { kind, position: what.position };
    case "tune":
      return what.tuneId === undefined ? null : { kind, tuneId: what.tuneId };
  }
}

function wordsOf(kind: Exclude<ScopeKind, "reed" | "pair">, { what, like }: GroupDay): string {
  switch (kind) {
    case "all":
      return "Everything practised";
    case "group": {
      const way = like.way === "in time" ? "" : `, ${like.way}`;
      return `${what.title} - ${what.harp}, ${bandInWords(like.tempo)}${way}`;
    }
    case "item":
      return what.title;
    case "position":
      return `${positionName(what.position as Position)} position`;
    case "tune":
      // "Title, stretch": the tune's own name.
      return what.title.split(", ").slice(0, -1).join(", ") || what.title;
  }
}

/** Reed actions or pairs of them that were asked for, by harp; most notes count as most practised. Rows are oldest first. */
export function reedComparablesOf(
  kind: "reed" | "pair",
  rows: readonly ReedDay[],
  harpName: (key: string) => string,
  order: Order,
): readonly Comparable[] {
  const found = new Map<string, Comparable & { readonly asked: number; readonly seen: Set<string> }>();
  for (const { harp, day, reeds, pairs } of rows)
    for (const [name, { asked }] of Object.entries(kind === "reed" ? reeds : pairs)) {
      const key = `${harp} ${name}`;
      const known = found.get(key) ?? {
        scope: { kind, harp, name },
        words: `${name.replace(" > ", " to ")} - ${harpName(harp)}`,
        days: 0,
        practisedMs: 0,
        lastDay: day,
        asked: 0,
        seen: new Set<string>(),
      };
      known.seen.add(day);
      found.set(key, {
        ...known,
        asked: known.asked + asked,
        days: known.seen.size,
        lastDay: day,
      });
    }
  return [...found.values()]
    .sort(
      (one, other) =>
        (order === "newest" ? byDay(one, other) : 0) ||
        other.asked - one.asked ||
        (one.words < other.words ? -1 : 1),
    )
    .map(({ seen: _, asked: __, ...one }) => one);
}

const byDay = (one: Comparable, other: Comparable) =>
  one.lastDay === other.lastDay ? 0 : one.lastDay < other.lastDay ? 1 : -1;

/** By minutes or by the last day, at a tie by the other and by name. */
function inOrder(all: readonly Comparable[], order: Order): readonly Comparable[] {
  const byMinutes = (one: Comparable, other: Comparable) => other.practisedMs - one.practisedMs;
  const [first, second] = order === "newest" ? [byDay, byMinutes] : [byMinutes, byDay];
  return [...all].sort(
    (one, other) => first(one, other) || second(one, other) || (one.words < other.words ? -1 : 1),
  );
}

export const sameScope = (one: Scope, other: Scope): boolean => JSON.stringify(one) === JSON.stringify(other);
