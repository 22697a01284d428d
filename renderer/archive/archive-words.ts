import type { RecordCounts, RecordKind } from "../../core/archive/archive-format.ts";
import type { ArchiveSummary } from "../../core/archive/archive-summary.ts";

const NAMES: readonly (readonly [RecordKind, one: string, many: string])[] = [
  ["attempt", "attempt", "attempts"],
  ["take", "take", "takes"],
  ["tune", "tune", "tunes"],
  ["study", "tune studied", "tunes studied"],
  ["set list", "set list", "set lists"],
  ["harp", "harp", "harps"],
  ["layout", "layout", "layouts"],
  ["wish", "wish for a date", "wishes for dates"],
  ["reed measurement", "measurement of reeds", "measurements of reeds"],
];

/** "1,234 attempts, 14 tunes, 3 harps"; null where there are none of anything. */
export function countsInWords(counts: RecordCounts, ...without: readonly RecordKind[]): string | null {
  const parts = NAMES.filter(([kind]) => counts[kind] > 0 && !without.includes(kind)).map(
    ([kind, one, many]) => `${counts[kind].toLocaleString("en")} ${counts[kind] === 1 ? one : many}`,
  );
  if (counts.settings > 0 && !without.includes("settings")) parts.push("the settings");
  return parts.length === 0 ? null : parts.join(", ");
}

/** "It holds 12 attempts from 2026-09-21 to 2026-09-30, 3 harps." */
export function summaryInWords({ counts, days, demo }: ArchiveSummary): string {
  const words = countsInWords(counts, "study", "wish");
  if (words === null) return "It holds nothing.";
  const between =
    days === null
      ? ""
      : days.first === days.last
        ? ` of ${days.first}`
        : ` from ${days.first} to ${days.last}`;
  const madeUp = demo === 0 ? "" : ` ${demo.toLocaleString("en")} of the attempts are made up.`;
  return `It holds ${words.replace(/attempts?/, (attempts) => attempts + between)}.${madeUp}`;
}
