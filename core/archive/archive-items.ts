import type { ArchiveRecord, RecordKind } from "./archive-format.ts";
import { fromBase64 } from "./base64.ts";
import type { ArchiveEvent } from "./read-archive.ts";
import type { TakePart } from "./record-shapes.ts";

/** A take as it was stored. */
export interface ArchivedTake {
  readonly about: TakePart["about"];
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/** A record with all that belongs to it. */
export type ArchiveItem =
  | { readonly kind: Exclude<RecordKind, "attempt" | "take">; readonly id: string; readonly value: unknown }
  | {
      readonly kind: "attempt";
      readonly id: string;
      readonly value: unknown;
      readonly take: ArchivedTake | null;
    };

/** Puts takes together and gives them to their attempts; faults are passed over, the rest stays as it is. */
export async function* archiveItems(
  events: AsyncIterable<ArchiveEvent>,
): AsyncGenerator<ArchiveItem | Extract<ArchiveEvent, { readonly kind: "refused" | "end" }>> {
  let attempt: ArchiveRecord | null = null;
  let parts: TakePart[] = [];
  for await (const event of events) {
    if (event.kind === "fault") continue;
    if (event.kind === "record" && event.record.kind === "take") {
      parts.push(event.record.value as TakePart);
      continue;
    }
    if (attempt !== null && event.kind !== "refused") yield whole(attempt, parts);
    attempt = null;
    parts = [];
    if (event.kind !== "record") yield event;
    else if (event.record.kind === "attempt") attempt = event.record;
    else yield event.record as ArchiveItem;
  }
}

function whole({ id, value }: ArchiveRecord, parts: readonly TakePart[]): ArchiveItem {
  return { kind: "attempt", id, value, take: takeOf(parts) };
}

/** Null where there is none, or not all of it. */
function takeOf(parts: readonly TakePart[]): ArchivedTake | null {
  const [first] = parts;
  if (first === undefined || parts.length < first.parts) return null;
  const pieces = parts.map((part) => fromBase64(part.bytes));
  const bytes = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return { about: first.about, bytes };
}
