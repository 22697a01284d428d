import { LEAST_SESSIONS } from "../../core/progress/trends/claims-together.ts";
import type { TrendLine } from "../../core/progress/trends/trend.ts";

/**
 * What core says of a line, as it stands under the name of its measure: without that name, and without how sure the interval
 * is, which is said once for all of them.
 *
 * @param words "Notes right, best of each day: 90 to 97 in 100 over 24 sessions (1856 notes), 1 to 13 in 100 more (95 in 100)."
 */
export function underItsMeasure({ words, verdict, sessions }: TrendLine): string {
  if (verdict === "too early")
    return `Too early: ${sessions} of ${LEAST_SESSIONS} sessions that can be compared.`;
  const rest = words.slice(words.indexOf(": ") + 2).replace(/ \(95 in 100[^)]*\)/, "");
  return `${rest.slice(0, 1).toUpperCase()}${rest.slice(1)}`;
}

/** The same beside its verdict. */
export const besideItsVerdict = (line: TrendLine): string =>
  line.verdict === "too early"
    ? `${line.sessions} of ${LEAST_SESSIONS} sessions that can be compared.`
    : underItsMeasure(line).replace(/: no clear change\.$/, ".");

/** How sure the intervals are. */
export const howSure = (judged: number): string =>
  judged === 1
    ? "The range of a change is right in 95 of 100 cases."
    : `The ranges of the changes are right, all ${judged} together, in 95 of 100 cases.`;
