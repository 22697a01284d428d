import { createReadStream } from "node:fs";
import { open } from "node:fs/promises";
import { pipeline } from "node:stream";
import { createGunzip } from "node:zlib";
import { type ArchiveEvent, DamagedFile, readArchive } from "../../core/archive/read-archive.ts";
import { beginsLikeGzip, NOT_GZIP, NOT_WHOLE, UnpackLimit } from "../../core/archive/unpack-limit.ts";
import { CommandError } from "./command-error.ts";
import { fileTrouble } from "./files.ts";

/**
 * What an archive says from record to record; never more than a line of it is held.
 *
 * @throws CommandError with one line naming the file, where it cannot be opened or is not to be used as a whole
 */
export async function* readArchiveFile(
  path: string,
): AsyncGenerator<Exclude<ArchiveEvent, { kind: "refused" }>> {
  const sizeBytes = await sizeOf(path);
  for await (const event of readArchive(unpacked(path, sizeBytes))) {
    if (event.kind === "refused") throw new CommandError(`${path}: ${event.reason}`);
    yield event;
  }
}

async function sizeOf(path: string): Promise<number> {
  try {
    const handle = await open(path, "r");
    try {
      const about = await handle.stat();
      if (!about.isFile()) throw new CommandError(`${path}: cannot be read: it is not a file on a disk`);
      const { buffer } = await handle.read(new Uint8Array(2), 0, 2, 0);
      if (!beginsLikeGzip(buffer)) throw new CommandError(`${path}: ${NOT_GZIP}`);
      return about.size;
    } finally {
      await handle.close();
    }
  } catch (error) {
    if (error instanceof CommandError) throw error;
    throw new CommandError(`${path}: ${fileTrouble(error, "cannot be read")}`);
  }
}

async function* unpacked(path: string, sizeBytes: number): AsyncGenerator<string> {
  const gunzip = createGunzip();
  const limit = new UnpackLimit(sizeBytes);
  const decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });
  // What goes wrong on the way ends the loop below.
  pipeline(createReadStream(path), gunzip, () => {});
  try {
    for await (const bytes of gunzip as AsyncIterable<Uint8Array>) {
      limit.add(bytes.length);
      yield decoder.decode(bytes, { stream: true });
    }
    yield decoder.decode();
  } catch (error) {
    throw error instanceof DamagedFile ? error : new DamagedFile(NOT_WHOLE);
  }
}
