import { NO_RECORDS, type RecordCounts, type RecordKind } from "../../core/archive/archive-format.ts";
import { type ArchiveSummary, EMPTY_SUMMARY, withRecord } from "../../core/archive/archive-summary.ts";
import { readArchive } from "../../core/archive/read-archive.ts";
import type { ArchiveStore } from "../store/archive-store.ts";
import { unpacked } from "./gzip.ts";

/** What a file holds, looked through to its last line before anything of it is kept. */
export type Look =
  | {
      readonly kind: "archive";
      readonly summary: ArchiveSummary;
      /** Records of each kind that are not here yet. */
      readonly fresh: RecordCounts;
      /** Whether nothing was practised here so far. */
      readonly isUnused: boolean;
      /** Records that cannot be read and would be left out, and the first of them in words. */
      readonly unreadable: number;
      readonly faults: readonly string[];
    }
  /** The end of a sentence about the file. */
  | { readonly kind: "refused"; readonly reason: string };

const MOST_FAULTS = 20;
/** Ids looked up at once. */
const AT_ONCE = 500;

/** @param onShare told the share of the file that was read, 0..1 */
export async function lookAtArchive(
  store: ArchiveStore,
  file: Blob,
  onShare: (share: number) => void,
): Promise<Look> {
  let summary = EMPTY_SUMMARY;
  const faults: string[] = [];
  let unreadable = 0;
  const fresh = new FreshCounter(store);
  for await (const event of readArchive(unpacked(file, (bytes) => onShare(bytes / file.size)))) {
    if (event.kind === "refused") return event;
    if (event.kind === "fault") {
      unreadable += 1;
      if (faults.length < MOST_FAULTS) faults.push(`line ${event.line}, ${event.reason}`);
    }
    if (event.kind !== "record") continue;
    summary = withRecord(summary, event.record);
    await fresh.add(event.record.kind, event.record.id);
  }
  const isUnused = (await store.count("attempt")) === 0;
  return { kind: "archive", summary, fresh: await fresh.counts(), isUnused, unreadable, faults };
}

/** Counts what is not here yet, some hundred ids at a time. */
class FreshCounter {
  private found: RecordCounts = NO_RECORDS;
  private kind: RecordKind = "settings";
  private ids: string[] = [];

  constructor(private readonly store: ArchiveStore) {}

  async add(kind: RecordKind, id: string): Promise<void> {
    // A take comes with its attempt.
    if (kind === "take") return;
    if (kind !== this.kind || this.ids.length >= AT_ONCE) await this.count();
    this.kind = kind;
    this.ids.push(id);
  }

  async counts(): Promise<RecordCounts> {
    await this.count();
    return this.found;
  }

  private async count(): Promise<void> {
    if (this.ids.length === 0) return;
    const there = await this.store.there(this.kind, this.ids);
    const fresh = this.ids.filter((id) => !there.has(id)).length;
    this.found = { ...this.found, [this.kind]: this.found[this.kind] + fresh };
    this.ids = [];
  }
}
