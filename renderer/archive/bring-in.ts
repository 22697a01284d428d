import { type ArchiveRecord, NO_RECORDS, type RecordCounts } from "../../core/archive/archive-format.ts";
import { type ArchiveItem, archiveItems } from "../../core/archive/archive-items.ts";
import { canonicalJson } from "../../core/archive/canonical-json.ts";
import { readArchive } from "../../core/archive/read-archive.ts";
import type { ArchiveStore, SmallKind } from "../store/archive-store.ts";
import type { StoredEntry } from "../store/history-entry.ts";
import type { AttemptKeeper, HistoryArchive, HistoryStore } from "../store/history-store.ts";
import { unpacked } from "./gzip.ts";
import { storedTake } from "./stored-takes.ts";

/** What bringing in needs of the store. */
export interface BringInto {
  readonly everything: ArchiveStore;
  readonly attempts: Pick<HistoryArchive, "keeper">;
  readonly stars: Pick<HistoryStore, "star">;
}

export interface BringWish {
  /** Whether the archive's settings and studies take the place of the player's own. */
  readonly theirs: boolean;
}

/** How many records of each kind were kept; the rest was there already. */
export type Brought = RecordCounts;

/** Handed on together: so many records, or attempts with so many bytes of takes. */
const AT_ONCE = 200;
const BYTES_AT_ONCE = 8 * 1024 * 1024;

/**
 * Keeps what an archive holds and is not here yet: attempts by id, each once, with all that follows from them; a star if
 * either has one. Of the rest the player's own stays, of wishes and measurements the later one. Whatever ends it, what was kept is whole, and
 * doing it again goes on from there. The file is to be looked through before.
 *
 * @param onShare told the share of the file that was read, 0..1
 * @throws Error with the reason where the file is refused after all
 */
export async function bringIn(
  into: BringInto,
  file: Blob,
  wish: BringWish,
  onShare: (share: number) => void,
): Promise<Brought> {
  const keeper = new Keeper(into, wish);
  for await (const item of archiveItems(readArchive(unpacked(file, (bytes) => onShare(bytes / file.size))))) {
    if (item.kind === "refused") throw new Error(`the file is ${item.reason}`);
    if (item.kind !== "end") await keeper.add(item);
  }
  return keeper.finish();
}

type AttemptItem = Extract<ArchiveItem, { readonly kind: "attempt" }>;

class Keeper {
  private brought: RecordCounts = NO_RECORDS;
  private readonly history: AttemptKeeper;
  private small: ArchiveRecord[] = [];
  private attempts: AttemptItem[] = [];
  private bytes = 0;

  constructor(
    private readonly into: BringInto,
    private readonly wish: BringWish,
  ) {
    this.history = into.attempts.keeper();
  }

  async add(item: ArchiveItem): Promise<void> {
    if (item.kind === "attempt") {
      this.attempts.push(item);
      this.bytes += item.take?.bytes.length ?? 0;
    } else {
      if (this.small[0] !== undefined && this.small[0].kind !== item.kind) await this.flush();
      this.small.push(item);
    }
    const full = this.small.length + this.attempts.length >= AT_ONCE || this.bytes >= BYTES_AT_ONCE;
    if (full) await this.flush();
  }

  async finish(): Promise<Brought> {
    await this.flush();
    this.count("attempt", await this.history.finish());
    return this.brought;
  }

  private async flush(): Promise<void> {
    await this.keepSmall();
    await this.keepAttempts();
    this.small = [];
    this.attempts = [];
    this.bytes = 0;
  }

  private async keepSmall(): Promise<void> {
    const kind = this.small[0]?.kind as SmallKind | undefined;
    if (kind === undefined) return;
    const ids = this.small.map(({ id }) => id);
    const own = new Map((await this.into.everything.records(kind, ids)).map((record) => [record.id, record]));
    const wanted = this.small.filter((record) => this.isWanted(record, own.get(record.id)));
    if (wanted.length > 0) await this.into.everything.keep(kind, wanted);
    this.count(kind, wanted.length);
  }

  private isWanted(theirs: ArchiveRecord, own: ArchiveRecord | undefined): boolean {
    if (own === undefined) return true;
    if (theirs.kind === "wish" || theirs.kind === "reed measurement") return isLater(theirs.value, own.value);
    const isChoice = theirs.kind === "settings" || theirs.kind === "study";
    return isChoice && this.wish.theirs && canonicalJson(own.value) !== canonicalJson(theirs.value);
  }

  private async keepAttempts(): Promise<void> {
    if (this.attempts.length === 0) return;
    const there = await this.into.everything.there(
      "attempt",
      this.attempts.map(({ id }) => id),
    );
    await this.history.add(this.attempts.filter(({ id }) => !there.has(id)).map(entryOf));
    for (const { id, value } of this.attempts) {
      if (there.has(id) && (value as Partial<StoredEntry>).starred === true) {
        await this.into.stars.star(id, true);
      }
    }
  }

  private count(kind: SmallKind | "attempt", more: number): void {
    this.brought = { ...this.brought, [kind]: this.brought[kind] + more };
  }
}

const entryOf = ({ id, value, take }: AttemptItem): StoredEntry => ({
  ...(value as Omit<StoredEntry, "id" | "take">),
  id,
  take: take === null ? null : storedTake(take),
});

interface Dated {
  readonly wishedAtEpochMs?: number;
  readonly changedAtEpochMs?: number;
}

const dateOf = ({ wishedAtEpochMs, changedAtEpochMs }: Dated) => wishedAtEpochMs ?? changedAtEpochMs ?? 0;

/** Of two wishes, or two states of a measurement, made at the same instant one always wins, whichever comes first. */
function isLater(theirs: unknown, own: unknown): boolean {
  const later = dateOf(theirs as Dated) - dateOf(own as Dated);
  return later !== 0 ? later > 0 : canonicalJson(theirs) > canonicalJson(own);
}
