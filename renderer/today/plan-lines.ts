import type { PlanKind, PlanLine } from "../../core/progress/plan/plan-shape.ts";

/** What lines of a kind are called. */
export const LINE_WORDS: Readonly<Record<PlanKind | "rest", string>> = {
  "warm-up": "Warm-up",
  due: "To revisit",
  "weak pair": "Weakest changes",
  new: "Something new",
  early: "To revisit early",
  "whole tune": "Whole tune",
  rest: "Rest",
};

/** A line in a few words, for a button that is read aloud: "Warm-up", "Something new, the second". */
export function lineInWords(
  { kind, number }: Pick<PlanLine, "kind" | "number">,
  lines: readonly PlanLine[],
): string {
  const several = lines.filter((line) => line.kind === kind).length > 1;
  return several ? `${LINE_WORDS[kind]} ${number}` : LINE_WORDS[kind];
}
