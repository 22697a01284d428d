import { DexieAttemptKeeper } from "../attempt-keeper.ts";
import { readStored } from "../attempt-packing.ts";
import type { ReedpathDatabase } from "../database.ts";
import type { PlainTake, StoredEntry, StoredTake } from "../history-entry.ts";
import type { LongWork } from "../history-store.ts";
import { HistoryWriter } from "../history-writer.ts";
import type { AttemptRow } from "../rows.ts";
import { packSamples } from "../take-packing.ts";
import { COPIED_TABLES, type CopiedTable, plainTable, type Row } from "./copied-tables.ts";
import type { CopyDatabase } from "./copy-database.ts";
import type { Key } from "./noted-changes.ts";

/** Of attempts, which come back by the history's own door and not as rows. */
const OF_ATTEMPTS: ReadonlySet<string> = new Set(["attempts", "takes", "lines"]);
/** Attempts that are in memory at once, with their takes. */
const AT_ONCE = 20;

/** How many attempts the copy holds of which the database may know nothing; 0 where nothing is to be brought back. */
export async function attemptsToBringBack(database: ReedpathDatabase): Promise<number> {
  const { secondCopy } = database;
  if (secondCopy === null || (await secondCopy.isTakenOver())) return 0;
  return (await secondCopy.open()).table("attempts").count();
}

/**
 * Brings everything back that the second copy holds and the database does not, with all that follows from it; what stands in the
 * database stays as it is. Stopped, or cut short, what came back is whole, and the rest comes back another time.
 *
 * @returns how many attempts came back; 0 where nothing was to be brought back
 */
export async function bringBack(database: ReedpathDatabase, work: LongWork = {}): Promise<number> {
  const { secondCopy } = database;
  if (secondCopy === null || (await secondCopy.isTakenOver())) return 0;
  const copy = await secondCopy.open();
  // It came out of the copy: nothing of it has to go there.
  secondCopy.isNoting = false;
  try {
    for (const table of COPIED_TABLES) {
      if (!OF_ATTEMPTS.has(table.from)) await bringRows(database, copy, table, work.signal);
    }
    const { back, packed } = await bringAttempts(database, copy, work);
    await noteTakes(database, copy, packed);
    await secondCopy.takenOver();
    return back;
  } finally {
    secondCopy.isNoting = true;
  }
}

async function bringRows(
  database: ReedpathDatabase,
  copy: CopyDatabase,
  table: CopiedTable,
  signal: AbortSignal | undefined,
): Promise<void> {
  const own = plainTable(database, table.from);
  for await (const keys of keysOf(copy, table, table.atOnce)) {
    signal?.throwIfAborted();
    const rows = await copy.rowsOf(table).bulkGet(keys);
    await database.transaction("rw", own, async () => {
      const there = await own.bulkGet(keys);
      await own.bulkPut(
        rows.filter((row, place) => row !== undefined && there[place] === undefined) as Row[],
      );
    });
  }
}

async function bringAttempts(
  database: ReedpathDatabase,
  copy: CopyDatabase,
  { onProgress, signal }: LongWork,
): Promise<{ readonly back: number; readonly packed: readonly Key[] }> {
  const packed: Key[] = [];
  const table = tableFrom("attempts");
  const keeper = new DexieAttemptKeeper(database, new HistoryWriter(database));
  const total = await copy.rowsOf(table).count();
  let done = 0;
  for await (const keys of keysOf(copy, table, AT_ONCE)) {
    signal?.throwIfAborted();
    const { entries, unreadable, plain } = await readSome(copy, keys);
    packed.push(...plain);
    await keeper.add(entries);
    await putUnreadable(database, unreadable);
    done += keys.length;
    onProgress?.(done / total);
  }
  return { back: await keeper.finish(), packed };
}

interface Unreadable {
  readonly attempt: AttemptRow;
  readonly take: Row | undefined;
}

interface Read {
  readonly entries: readonly StoredEntry[];
  readonly unreadable: readonly Unreadable[];
  /** Ids of those whose take is not packed in the copy. */
  readonly plain: readonly Key[];
}

async function readSome(copy: CopyDatabase, keys: Key[]): Promise<Read> {
  const [attempts, takes, stars] = await Promise.all([
    copy.rowsOf(tableFrom("attempts")).bulkGet(keys),
    copy.rowsOf(tableFrom("takes")).bulkGet(keys),
    copy.rowsOf(tableFrom("lines")).bulkGet(keys),
  ]);
  const entries: StoredEntry[] = [];
  const unreadable: Unreadable[] = [];
  for (const [place, row] of attempts.entries()) {
    const attempt = row as unknown as AttemptRow | undefined;
    if (attempt === undefined) continue;
    const take = takes[place];
    const read = readStored(attempt);
    const star = stars[place] === undefined ? {} : ({ starred: true } as const);
    if (read === null) unreadable.push({ attempt, take });
    else entries.push({ ...read.entry, ...star, take: takeOf(take) });
  }
  return { entries, unreadable, plain: keys.filter((_, place) => isPlain(takes[place])) };
}

/** What cannot be read is kept as it is: a later version may read it. */
async function putUnreadable(database: ReedpathDatabase, unreadable: readonly Unreadable[]): Promise<void> {
  const { attempts } = database;
  const takes = plainTable(database, "takes");
  await database.transaction("rw", [attempts, takes], async () => {
    await attempts.bulkPut(unreadable.map(({ attempt }) => attempt));
    await takes.bulkPut(unreadable.flatMap(({ take }) => (take === undefined ? [] : [take])));
  });
}

/** Those that an earlier version stored as they were are packed on the way, as they would be in the database sooner or later. */
function takeOf(row: Row | undefined): StoredTake | null {
  if (row === undefined) return null;
  const { id: _, ...rest } = row;
  const take = rest as unknown as StoredTake;
  return isPlain(row) ? packSamples(take as PlainTake) : take;
}

/** Notes which takes are otherwise now: they were packed, or there was no room for them. The copy itself is not written here. */
async function noteTakes(
  database: ReedpathDatabase,
  copy: CopyDatabase,
  packed: readonly Key[],
): Promise<void> {
  const copied = await copy.rowsOf(tableFrom("takes")).toCollection().primaryKeys();
  const kept = new Set<Key>(await database.takes.toCollection().primaryKeys());
  const keys = [...packed, ...copied.filter((key) => !kept.has(key))];
  if (keys.length > 0) await database.uncopied.add({ table: "takes", keys });
}

const isPlain = (row: Row | undefined): boolean => row !== undefined && "samples" in row;

/** All keys of a table, some at a time; what is written meanwhile does not disturb it. */
async function* keysOf(copy: CopyDatabase, table: CopiedTable, atOnce: number): AsyncIterable<Key[]> {
  let last: Key | undefined;
  for (;;) {
    const rows = copy.rowsOf(table);
    const rest = last === undefined ? rows.toCollection() : rows.where(":id").above(last);
    const keys = await rest.limit(atOnce).primaryKeys();
    last = keys.at(-1);
    if (last === undefined) return;
    yield keys;
  }
}

function tableFrom(from: CopiedTable["from"]): CopiedTable {
  const found = COPIED_TABLES.find((table) => table.from === from);
  if (found === undefined) throw new RangeError(`nothing of ${from} is copied`);
  return found;
}
