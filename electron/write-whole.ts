import { randomUUID } from "node:crypto";
import { open, rename, rm } from "node:fs/promises";

/**
 * Writes a file whole or not at all: into a new file beside it, down to the disk, then renamed over the old one.
 *
 * @throws the system's error; the old file is then untouched and nothing is left beside it
 */
export async function writeWhole(file: string, bytes: Uint8Array): Promise<void> {
  const part = `${file}.${randomUUID()}.part`;
  try {
    const handle = await open(part, "wx");
    try {
      await handle.writeFile(bytes);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(part, file);
  } catch (error) {
    await rm(part, { force: true });
    throw error;
  }
}
