import { randomUUID } from "node:crypto";
import { type FileHandle, open, rename, rm } from "node:fs/promises";

export const PART_ENDING = ".part";

/**
 * A file that is written piece by piece and stands under its own name once it is whole, or not at all: into a new file
 * beside it, down to the disk, then renamed.
 */
export class PartFile {
  private constructor(
    readonly file: string,
    /** Where it grows. */
    readonly part: string,
    private readonly handle: FileHandle,
  ) {}

  /** @throws the system's error; nothing is then left */
  static async begin(file: string): Promise<PartFile> {
    const part = `${file}.${randomUUID()}${PART_ENDING}`;
    return new PartFile(file, part, await open(part, "wx"));
  }

  /** @throws the system's error; the file is then to be abandoned */
  async add(bytes: Uint8Array): Promise<void> {
    await this.handle.writeFile(bytes);
  }

  /** @throws the system's error; an older file of that name is then untouched and nothing is left beside it */
  async finish(): Promise<void> {
    try {
      await this.handle.sync();
      await this.handle.close();
      await rename(this.part, this.file);
    } catch (error) {
      await this.abandon();
      throw error;
    }
  }

  /** Leaves nothing behind; may be called more than once. */
  async abandon(): Promise<void> {
    await this.handle.close().catch(() => {});
    await rm(this.part, { force: true });
  }
}
