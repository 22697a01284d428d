import { Inflate } from "fflate";
import { beyond, LIMITS, moreThan } from "../../reading/limits.ts";
import { quoted } from "../../reading/quoting.ts";
import { decodeText } from "../abc/decode-text.ts";
import { TuneFault } from "../tune-fault.ts";

/** A file in a ZIP's list of contents. Its name is only ever compared, never used as a path. */
export interface ZipEntry {
  readonly name: string;
  readonly method: number;
  readonly encrypted: boolean;
  readonly packedBytes: number;
  readonly headerAt: number;
}

const END_MARK = 0x06054b50;
const ENTRY_MARK = 0x02014b50;
const HEADER_MARK = 0x04034b50;
const END_BYTES = 22;
const LONGEST_COMMENT = 0xffff;
const STORED = 0;
const DEFLATED = 8;
/** In a ZIP of more than 4 GB the true number stands elsewhere. */
const ELSEWHERE = 0xffffffff;

/** Whether a file begins as a ZIP does. */
export const isZip = (bytes: Uint8Array): boolean => bytes[0] === 0x50 && bytes[1] === 0x4b;

/**
 * Lists what a ZIP holds.
 *
 * @throws TuneFault where it is cut off or broken, or holds more than `LIMITS.zipEntries.most`
 *
 * Source: PKWARE APPNOTE 6.3, 4.3.12 and 4.3.16.
 */
export function zipEntries(bytes: Uint8Array): readonly ZipEntry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endRecord(view);
  const count = view.getUint16(end + 10, true);
  if (count > LIMITS.zipEntries.most) {
    throw new TuneFault(`the compressed file holds ${beyond(count, LIMITS.zipEntries)}`);
  }
  const entries: ZipEntry[] = [];
  let at = view.getUint32(end + 16, true);
  for (let index = 0; index < count; index++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== ENTRY_MARK) {
      throw new TuneFault(
        `the compressed file is broken: its list of contents ends after ${index} of ${count} files`,
      );
    }
    const nameBytes = view.getUint16(at + 28, true);
    entries.push({
      name: decodeText(bytes.subarray(at + 46, at + 46 + nameBytes)),
      method: view.getUint16(at + 10, true),
      encrypted: (view.getUint16(at + 8, true) & 1) === 1,
      packedBytes: view.getUint32(at + 20, true),
      headerAt: view.getUint32(at + 42, true),
    });
    at += 46 + nameBytes + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return entries;
}

function endRecord(view: DataView): number {
  const first = Math.max(0, view.byteLength - END_BYTES - LONGEST_COMMENT);
  for (let at = view.byteLength - END_BYTES; at >= first; at--) {
    if (view.getUint32(at, true) === END_MARK) return at;
  }
  throw new TuneFault("the compressed file is cut off: its list of contents is missing");
}

/**
 * Unpacks one file. Whatever the list claims, no more than `LIMITS.xmlUnpackedBytes.most` is ever unpacked.
 *
 * @throws TuneFault where it is broken, locked, packed in another way or too large
 */
export function unpack(bytes: Uint8Array, entry: ZipEntry): Uint8Array {
  const packed = packedPart(bytes, entry);
  if (entry.encrypted) throw new TuneFault(`${quoted(entry.name)} is locked by a password`);
  if (entry.method === STORED) return withinLimit(packed, entry);
  if (entry.method !== DEFLATED) {
    throw new TuneFault(`${quoted(entry.name)} is packed by method ${entry.method}; only "deflate" is read`);
  }
  return inflate(packed, entry);
}

function packedPart(bytes: Uint8Array, { name, headerAt, packedBytes }: ZipEntry): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const there = headerAt + 30 <= bytes.length && view.getUint32(headerAt, true) === HEADER_MARK;
  const start = there
    ? headerAt + 30 + view.getUint16(headerAt + 26, true) + view.getUint16(headerAt + 28, true)
    : 0;
  if (!there || packedBytes === ELSEWHERE || start + packedBytes > bytes.length) {
    throw new TuneFault(`the compressed file is broken: ${quoted(name)} is not where its list says`);
  }
  return bytes.subarray(start, start + packedBytes);
}

/** Packed bytes taken at a time: each can become about a thousand, and the limit is checked between. */
const PIECE = 4096;

function inflate(packed: Uint8Array, entry: ZipEntry): Uint8Array {
  const pieces: Uint8Array[] = [];
  let size = 0;
  const stream = new Inflate((piece) => {
    size += piece.length;
    if (size > LIMITS.xmlUnpackedBytes.most) throw tooLarge(entry);
    pieces.push(piece);
  });
  try {
    for (let at = 0; at < packed.length || at === 0; at += PIECE) {
      stream.push(packed.slice(at, at + PIECE), at + PIECE >= packed.length);
    }
  } catch (error) {
    if (error instanceof TuneFault) throw error;
    const why = error instanceof Error ? error.message : "unknown";
    throw new TuneFault(`the compressed file is broken: ${quoted(entry.name)} cannot be unpacked (${why})`);
  }
  return joined(pieces, size);
}

function joined(pieces: readonly Uint8Array[], size: number): Uint8Array {
  const all = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

function withinLimit(bytes: Uint8Array, entry: ZipEntry): Uint8Array {
  if (bytes.length > LIMITS.xmlUnpackedBytes.most) throw tooLarge(entry);
  return bytes;
}

const tooLarge = ({ name }: ZipEntry) =>
  new TuneFault(`${quoted(name)} has ${moreThan(LIMITS.xmlUnpackedBytes)}`);
