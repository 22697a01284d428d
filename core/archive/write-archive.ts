import {
  ARCHIVE_SCHEMA,
  ARCHIVE_VERSION,
  type ArchiveRecord,
  NO_RECORDS,
  type RecordCounts,
  TAKE_PART_BYTES,
} from "./archive-format.ts";
import { toBase64 } from "./base64.ts";
import { canonicalJson } from "./canonical-json.ts";
import type { TakePart } from "./record-shapes.ts";

/** The lines of an archive, one for each record and two around them. */
export class ArchiveLines {
  private counts: RecordCounts = NO_RECORDS;

  header(): string {
    return line({ kind: "header", schema: ARCHIVE_SCHEMA, version: ARCHIVE_VERSION });
  }

  /** @param record the next in the order of the format */
  record({ id, kind, value }: ArchiveRecord): string {
    this.counts = { ...this.counts, [kind]: this.counts[kind] + 1 };
    return line({ id, kind, value });
  }

  end(): string {
    return line({ kind: "end", records: this.counts });
  }
}

const line = (value: unknown) => `${canonicalJson(value)}\n`;

/** A take in parts, one record each. */
export function* takeRecords(
  id: string,
  about: TakePart["about"],
  bytes: Uint8Array,
): Generator<ArchiveRecord> {
  const parts = Math.max(1, Math.ceil(bytes.length / TAKE_PART_BYTES));
  for (let part = 0; part < parts; part++) {
    const from = part * TAKE_PART_BYTES;
    const value: TakePart = {
      about,
      part,
      parts,
      bytes: toBase64(bytes.subarray(from, from + TAKE_PART_BYTES)),
    };
    yield { kind: "take", id, value };
  }
}
