import { deflateSync, inflateSync, strFromU8, strToU8 } from "fflate";
import type { SessionFact } from "../../core/progress/counts/session-fact.ts";
import { factOf } from "../../core/progress/counts/session-fact.ts";
import { readAttempt } from "../../core/score/attempt-versions.ts";
import { ATTEMPT_DICTIONARY } from "./attempt-dictionary.ts";
import type { StoredEntry } from "./history-entry.ts";
import type { AttemptRow } from "./rows.ts";

/** An entry without take and star, which are stored apart. */
export type BareEntry = Omit<StoredEntry, "take" | "starred">;

/** Quick, and hardly larger than the smallest. */
const LEVEL = 6;

/**
 * An attempt as deflated JSON (RFC 1951), with a dictionary of what stands in every one: a fifth of what the database makes of
 * the same data, and it is only ever read whole.
 */
export function packAttempt(entry: BareEntry): AttemptRow {
  const { id, atEpochMs, zone, source, exercise, attempt, demo } = entry;
  const bare = { atEpochMs, zone, source, exercise, attempt, ...(demo === true ? { demo } : {}) };
  const packed = deflateSync(strToU8(JSON.stringify(bare, keepNumber)), { level: LEVEL, dictionary });
  return { id, packed };
}

/** @throws Error if the bytes are damaged */
export function unpackAttempt({ id, packed }: AttemptRow): BareEntry {
  const text = strFromU8(inflateSync(packed, { dictionary }));
  const bare = text.includes(`"${NUMBER}"`) ? JSON.parse(text, giveNumber) : JSON.parse(text);
  return { ...bare, id };
}

/** A stored attempt with its fact; null where it is damaged or a newer version marked it: it then counts nowhere. */
export function readStored(
  row: AttemptRow | undefined,
): { readonly entry: BareEntry; readonly fact: SessionFact } | null {
  if (row === undefined) return null;
  try {
    const entry = unpackAttempt(row);
    const read = readAttempt(entry.attempt);
    return read.kind === "unreadable" ? null : { entry, fact: factOf({ ...entry, attempt: read.attempt }) };
  } catch {
    return null;
  }
}

const dictionary = strToU8(ATTEMPT_DICTIONARY);

/** JSON has no infinite numbers, no NaN and no minus zero: the level of silence is one. */
const NUMBER = "not in JSON";

const keepNumber = (_: string, value: unknown): unknown =>
  typeof value === "number" && (!Number.isFinite(value) || Object.is(value, -0))
    ? { [NUMBER]: Object.is(value, -0) ? "-0" : String(value) }
    : value;

const giveNumber = (_: string, value: unknown): unknown =>
  typeof value === "object" && value !== null && NUMBER in value ? Number(value[NUMBER]) : value;
