import { harpName } from "../../instrument/harp.ts";
import type { MeasuredTake } from "./measure-take.ts";
import { listInWords, reedInWords } from "./measure-words.ts";

/** What is to be said of a recording besides its reeds, a sentence each: another harp, reeds that cannot be told, what was left out. */
export function takeInWords({ doubt, unsure, leftOut }: MeasuredTake): readonly string[] {
  const better = doubt?.better == null ? "" : ` A ${harpName(doubt.better)} would fit.`;
  return [
    ...(doubt === null
      ? []
      : [
          `${doubt.strangers} of ${doubt.of} notes are not where this harp has reeds: is it the right one?${better}`,
        ]),
    ...unsure.map(
      ({ place, orElse }) =>
        `${reedInWords(place)} or ${reedInWords(orElse)}: the recording cannot tell which of the two it was.`,
    ),
    ...(leftOut.length === 0 ? [] : [`Left out: ${listInWords(countsOf(leftOut.map(({ why }) => why)))}.`]),
  ];
}

function countsOf(reasons: readonly string[]): readonly string[] {
  const counts = new Map<string, number>();
  for (const reason of reasons) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts].map(([reason, count]) => `${count} ${count === 1 ? "note" : "notes"} (${reason})`);
}
