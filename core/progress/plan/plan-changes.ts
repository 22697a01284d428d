import { itemIfPlayed } from "../counts/session-fact.ts";
import { candidatesOf } from "./plan-candidates.ts";
import { partsFor } from "./plan-minutes.ts";
import type { Plan, PlanInput, PlanLine } from "./plan-shape.ts";
import { lineName } from "./plan-shape.ts";

/** A line is made longer by so many minutes at a time, up to as long as may be played without a rest. */
export const LENGTHEN_MINUTES = 2;
export const LONGEST_LENGTHENED_MINUTES = 15;

/** The plan with a line made longer; the same where it is as long as it goes. */
export function lengthened(plan: Plan, name: string): Plan {
  return withLine(plan, name, (line) => ({
    ...line,
    minutes: Math.max(line.minutes, Math.min(LONGEST_LENGTHENED_MINUTES, line.minutes + LENGTHEN_MINUTES)),
  }));
}

/**
 * The plan with something else of the same kind on a line.
 *
 * @param left items that stood on it before today and are not to come back
 * @returns null where there is nothing else
 */
export function swapped(plan: Plan, name: string, input: PlanInput, left: ReadonlySet<string>): Plan | null {
  const line = plan.lines.find((one) => lineName(one) === name);
  if (line === undefined || line.kind === "rest") return null;
  const parts = plan.lines.flatMap((one) => (one.kind === "rest" ? [] : one.parts));
  const used = new Set(parts.map(({ item }) => itemIfPlayed(item)));
  const others = candidatesOf(input)[line.kind].filter(
    ({ item }) => !used.has(itemIfPlayed(item)) && !left.has(item),
  );
  if (others.length === 0) return null;
  const next = partsFor(line.minutes, line.kind, others);
  return withLine(plan, name, (one) => (one.kind === "rest" ? one : { ...one, parts: next }));
}

const withLine = (plan: Plan, name: string, change: (line: PlanLine) => PlanLine): Plan => ({
  ...plan,
  lines: plan.lines.map((line) => (lineName(line) === name ? change(line) : line)),
});
