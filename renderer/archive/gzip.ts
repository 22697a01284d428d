import { DamagedFile } from "../../core/archive/read-archive.ts";
import { beginsLikeGzip, NOT_GZIP, NOT_WHOLE, UnpackLimit } from "../../core/archive/unpack-limit.ts";

/** Pieces that go in: always the same, so that the same text is packed into the same bytes. */
const BLOCK_BYTES = 64 * 1024;
/** Pieces that come out. */
const PIECE_BYTES = 1024 * 1024;

/** Texts packed as gzip, in pieces of about a mebibyte. */
export async function* gzipped(texts: AsyncIterable<string>): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  yield* joined(each(streamOf(blocksOf(texts)).pipeThrough(new CompressionStream("gzip"))), PIECE_BYTES);
}

/** Texts as UTF-8, in pieces of about a mebibyte. */
export async function* encoded(texts: AsyncIterable<string>): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  const encoder = new TextEncoder();
  async function* bytes() {
    for await (const text of texts) yield encoder.encode(text);
  }
  yield* joined(bytes(), PIECE_BYTES);
}

async function* blocksOf(texts: AsyncIterable<string>): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  for await (const piece of encoded(texts)) {
    for (let at = 0; at < piece.length; at += BLOCK_BYTES) yield piece.slice(at, at + BLOCK_BYTES);
  }
}

/** The same bytes in pieces of just so many, the last one shorter. */
async function* joined(
  pieces: AsyncIterable<Uint8Array>,
  pieceBytes: number,
): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  let open = new Uint8Array(pieceBytes);
  let filled = 0;
  for await (const piece of pieces) {
    for (let at = 0; at < piece.length; ) {
      const part = piece.subarray(at, at + pieceBytes - filled);
      open.set(part, filled);
      filled += part.length;
      at += part.length;
      if (filled < pieceBytes) continue;
      yield open;
      open = new Uint8Array(pieceBytes);
      filled = 0;
    }
  }
  if (filled > 0) yield open.slice(0, filled);
}

/**
 * The text of a gzip file as it is unpacked.
 *
 * @param onRead told how many of the file's own bytes were read so far
 * @throws DamagedFile where it is not gzip, not whole, not UTF-8 or unpacks to no end
 */
export async function* unpacked(
  file: Blob,
  onRead: (bytes: number) => void = () => {},
): AsyncGenerator<string> {
  if (!beginsLikeGzip(new Uint8Array(await file.slice(0, 2).arrayBuffer()))) throw new DamagedFile(NOT_GZIP);
  const limit = new UnpackLimit(file.size);
  const decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });
  const packed = streamOf(counted(file, onRead));
  try {
    for await (const bytes of each(packed.pipeThrough(new DecompressionStream("gzip")))) {
      limit.add(bytes.length);
      yield decoder.decode(bytes, { stream: true });
    }
    yield decoder.decode();
  } catch (error) {
    if (error instanceof DamagedFile) throw error;
    const gone = error instanceof DOMException && /^Not(Found|Readable)Error$/.test(error.name);
    throw new DamagedFile(gone ? "it can no longer be read: was it moved?" : NOT_WHOLE);
  }
}

async function* counted(
  file: Blob,
  onRead: (bytes: number) => void,
): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  for (let at = 0; at < file.size; at += PIECE_BYTES) {
    yield new Uint8Array(await file.slice(at, at + PIECE_BYTES).arrayBuffer());
    onRead(Math.min(file.size, at + PIECE_BYTES));
  }
}

function streamOf(pieces: AsyncGenerator<Uint8Array<ArrayBuffer>>): ReadableStream<Uint8Array<ArrayBuffer>> {
  return new ReadableStream({
    pull: async (controller) => {
      const { done, value } = await pieces.next();
      if (done === true) controller.close();
      else controller.enqueue(value);
    },
    cancel: async () => void (await pieces.return(undefined)),
  });
}

/** Not every browser goes through a stream by itself. */
async function* each(stream: ReadableStream<Uint8Array>): AsyncGenerator<Uint8Array> {
  const reader = stream.getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      yield value;
    }
  } finally {
    await reader.cancel().catch(() => {});
  }
}
