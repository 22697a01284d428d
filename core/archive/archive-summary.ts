import { type PracticeDay, practiceDay } from "../progress/practice-day.ts";
import { type ArchiveRecord, NO_RECORDS, type RecordCounts } from "./archive-format.ts";
import type { TakePart } from "./record-shapes.ts";

/** What an archive holds. */
export interface ArchiveSummary {
  /** Records of each kind; of takes the takes, however many parts they have. */
  readonly counts: RecordCounts;
  readonly starred: number;
  /** Attempts of the made-up days of the demonstration. */
  readonly demo: number;
  /** Days of practice, in the zones they were played in; null without attempts. */
  readonly days: { readonly first: PracticeDay; readonly last: PracticeDay } | null;
}

/** What the value of an attempt says of itself; the reader has looked it through. */
interface Told {
  readonly atEpochMs: number;
  readonly zone: string;
  readonly starred?: true;
  readonly demo?: true;
}

export const EMPTY_SUMMARY: ArchiveSummary = { counts: NO_RECORDS, starred: 0, demo: 0, days: null };

/** The summary with one record more. */
export function withRecord(summary: ArchiveSummary, { kind, value }: ArchiveRecord): ArchiveSummary {
  if (kind === "take" && (value as TakePart).part > 0) return summary;
  const counts = { ...summary.counts, [kind]: summary.counts[kind] + 1 };
  if (kind !== "attempt") return { ...summary, counts };
  const { atEpochMs, zone, starred, demo } = value as Told;
  return {
    counts,
    starred: summary.starred + (starred === true ? 1 : 0),
    demo: summary.demo + (demo === true ? 1 : 0),
    days: withDay(summary.days, practiceDay(atEpochMs, zone)),
  };
}

function withDay(days: ArchiveSummary["days"], day: PracticeDay): ArchiveSummary["days"] {
  if (days === null) return { first: day, last: day };
  return { first: day < days.first ? day : days.first, last: day > days.last ? day : days.last };
}
