import {
  ATTEMPT_HEADINGS,
  attemptRow,
  NOTE_HEADINGS,
  noteRows,
  type TabledAttempt,
} from "../../core/archive/history-table.ts";
import { readAttempt } from "../../core/score/attempt-versions.ts";
import { toCsv } from "../../core/score/csv.ts";
import type { ArchiveStore } from "../store/archive-store.ts";
import type { AttemptFilter, HistoryStore, Place, StoredEntry } from "../store/history-store.ts";

/** Lines read at once. */
const AT_ONCE = 100;

/** One row for each attempt, or one for each note of each. */
export type TableOf = "attempts" | "notes";

/**
 * The attempts that fit a filter as comma-separated values, newest first as the list has them.
 *
 * @param onShare told the share of the attempts that are done, 0..1
 */
export async function* tableTexts(
  from: { readonly everything: ArchiveStore; readonly lines: Pick<HistoryStore, "page" | "count"> },
  of: TableOf,
  filter: AttemptFilter,
  onShare: (share: number) => void,
): AsyncGenerator<string> {
  yield toCsv([of === "notes" ? NOTE_HEADINGS : ATTEMPT_HEADINGS]);
  const all = await from.lines.count(filter);
  let done = 0;
  for (let before: Place | null = null; ; ) {
    const page = await from.lines.page({ filter, before, limit: AT_ONCE });
    const last = page.at(-1);
    if (last === undefined) return;
    const entries = await from.everything.attempts(
      page.map(({ id }) => id),
      false,
    );
    for (const entry of entries) {
      const attempt = tabled(entry);
      if (attempt !== null) yield toCsv(of === "notes" ? noteRows(attempt) : [attemptRow(attempt)]);
    }
    before = last;
    done += page.length;
    onShare(Math.min(1, done / all));
  }
}

/** Null for one that a newer version marked. */
function tabled({ take: _, ...entry }: StoredEntry): TabledAttempt | null {
  const read = readAttempt(entry.attempt);
  return read.kind === "unreadable" ? null : { ...entry, attempt: read.attempt };
}
