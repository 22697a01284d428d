import type { Exercise } from "../../core/exercise/exercise.ts";
import { FACT_VERSION } from "../../core/progress/counts/session-fact.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { readAttempt } from "../../core/score/attempt-versions.ts";
import type { StoredEntry } from "./history-entry.ts";
import type { LongWork } from "./history-store.ts";
import { HistoryWriter, prepare } from "./history-writer.ts";
import { presentZone } from "./present-zone.ts";
import type { Tables } from "./tables.ts";

/** As versions 1 and 2 kept an attempt beside its line and its take. */
interface AttemptOfVersion2 {
  readonly id: string;
  readonly atEpochMs: number;
  readonly source: StoredEntry["source"];
  readonly exercise: Exercise;
  readonly attempt: Attempt;
}

const AT_ONCE = 100;

/**
 * Makes all that is kept of attempts now from what version 2 kept. Where an old attempt was played nobody knows: it counts
 * where the window is now. Its take stays as it is and is packed later, as packing one takes a while. An attempt that cannot be
 * read stays as it was and is not in the list.
 *
 * To be called within the transaction of the upgrade: nothing here may wait for anything but the database. Where the signal says
 * so it throws, which undoes the whole upgrade.
 */
export async function fillFromVersion2(database: Tables, { onProgress, signal }: LongWork): Promise<void> {
  const { lines, attempts, takes, meta } = database;
  const writer = new HistoryWriter(database);
  const zone = presentZone();
  onProgress?.(0);
  const old = await lines.toArray();
  await lines.clear();
  const withTake = new Set(await takes.toCollection().primaryKeys());
  for (let from = 0; from < old.length; from += AT_ONCE) {
    signal?.throwIfAborted();
    const ids = old.slice(from, from + AT_ONCE).map(({ id }) => id);
    const rows = (await attempts.bulkGet(ids)) as unknown as (AttemptOfVersion2 | undefined)[];
    const readable = rows.flatMap((row) =>
      row === undefined || readAttempt(row.attempt).kind === "unreadable" ? [] : [row],
    );
    await writer.put(readable.map((row) => prepare({ ...row, zone }, null)));
    await countPlainTakes(
      database,
      readable.filter(({ id }) => withTake.has(id)),
    );
    onProgress?.(Math.min(1, (from + AT_ONCE) / old.length));
  }
  signal?.throwIfAborted();
  await meta.put({ id: "plain takes", ids: [...withTake] });
  await meta.put({ id: "rules", factVersion: FACT_VERSION });
}

/** Not to be dropped before they are packed, which may make room enough. */
async function countPlainTakes({ lines, meta }: Tables, of: readonly AttemptOfVersion2[]): Promise<void> {
  if (of.length === 0) return;
  const bytes = new Map(of.map(({ id, attempt }) => [id, bytesOfPlain(attempt)]));
  const rows = await lines.bulkGet(of.map(({ id }) => id));
  await lines.bulkPut(rows.flatMap((row) => (row ? [{ ...row, takeBytes: bytes.get(row.id) ?? 0 }] : [])));
  const before = await meta.get("takes");
  const counted = before?.id === "takes" ? before : { count: 0, bytes: 0 };
  await meta.put({
    id: "takes",
    count: counted.count + bytes.size,
    bytes: counted.bytes + [...bytes.values()].reduce((sum, one) => sum + one, 0),
  });
}

/** Four bytes a sample; the samples themselves need not be read for it. */
const bytesOfPlain = ({ take }: Attempt): number => 4 * Math.round(take.durationSeconds * take.sampleRateHz);
