/**
 * The archive: one file that holds everything the program keeps.
 *
 * It is gzip (RFC 1952) of lines of JSON in UTF-8, each ended by a line feed. The first line is the header, the last one
 * counts the lines between by kind, and those between are records of the form
 *
 *     {"id": "...", "kind": "attempt", "value": {...}}
 *
 * by kind as `RECORD_KINDS` orders them and within a kind by id (UTF-16 code units), each id once. A take follows its attempt, in parts. Every
 * line is `canonicalJson`, and nothing in the file tells when or where it was written: the same history gives the same
 * lines. What a value holds is in record-shapes.ts. A change of any record that this version could not read raises the
 * version of the archive.
 */
export const ARCHIVE_SCHEMA = "reedpath.archive";
/** Version 2 brought measurements of reeds; files of version 1 are read as they are. */
export const ARCHIVE_VERSION = 2;
export const OLDEST_ARCHIVE_VERSION = 1;

export const RECORD_KINDS = [
  "settings",
  "layout",
  "harp",
  "tune",
  "study",
  "set list",
  "wish",
  "reed measurement",
  "attempt",
  "take",
] as const;
export type RecordKind = (typeof RECORD_KINDS)[number];

/** What one line holds. */
export interface ArchiveRecord {
  readonly kind: RecordKind;
  readonly id: string;
  /** As `checkValue` has found it right. */
  readonly value: unknown;
}

export type RecordCounts = Readonly<Record<RecordKind, number>>;

export const NO_RECORDS: RecordCounts = Object.fromEntries(RECORD_KINDS.map((kind) => [kind, 0])) as Record<
  RecordKind,
  number
>;

/** Bytes of a take in one line, so that no line grows with the length of a take. */
export const TAKE_PART_BYTES = 768 * 1024;
