import { appendFileSync, existsSync, readdirSync, statSync } from "node:fs";
import path from "node:path";

/** Which of the two databases of a profile. */
export type Which = "history" | "second copy";

/** Of a record in LevelDB's log: checksum, length and kind. */
const HEADER_BYTES = 7;
const BLOCK_BYTES = 32_768;

/** Folder of the engine's files; null where there is none yet. */
export function engineFolder(profile: string, which: Which): string | null {
  const own = path.join(profile, "Default");
  const folders =
    which === "history"
      ? foldersIn(path.join(own, "IndexedDB"))
      : foldersIn(path.join(own, "WebStorage")).flatMap((bucket) =>
          foldersIn(path.join(bucket, "IndexedDB")),
        );
  return folders.find((folder) => folder.endsWith(".leveldb")) ?? null;
}

const foldersIn = (folder: string): readonly string[] =>
  existsSync(folder)
    ? readdirSync(folder, { withFileTypes: true }).flatMap((one) =>
        one.isDirectory() ? [path.join(folder, one.name)] : [],
      )
    : [];

/**
 * Leaves the end of the engine's log as a browser leaves it that was killed in the middle of writing a record: its first bytes are
 * there, the rest is not. Nothing that was told to be kept is touched. The engine takes that for the end, writes on behind it, and
 * finds a record with a wrong checksum the next time it opens: Chromium then deletes the whole database.
 * Source of the form: LevelDB, doc/log_format.md.
 *
 * @returns whether there was a log with room for it in its last block
 */
export function tearLog(profile: string, which: Which): boolean {
  const folder = engineFolder(profile, which);
  if (folder === null) return false;
  const logs = readdirSync(folder).filter((name) => /^\d+\.log$/.test(name));
  const log = logs.sort((one, other) => Number.parseInt(one, 10) - Number.parseInt(other, 10)).at(-1);
  if (log === undefined) return false;
  const file = path.join(folder, log);
  const left = BLOCK_BYTES - (statSync(file).size % BLOCK_BYTES);
  const length = 300;
  if (left < HEADER_BYTES + length) return false;
  const record = new Uint8Array(HEADER_BYTES + length / 3).fill(37);
  new DataView(record.buffer).setUint16(4, length, true);
  record[6] = 1; // a whole record
  appendFileSync(file, record);
  return true;
}
