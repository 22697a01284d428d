import { mkdir, open, readdir, rm, stat } from "node:fs/promises";
import path from "node:path";
import type { Backup } from "./bridge.ts";
import { PART_ENDING, PartFile } from "./part-file.ts";

/** Beyond these the oldest goes. */
export const BACKUPS_KEPT = 10;

/** Bytes of a backup that are read at once. */
const READ_BYTES = 4 * 1024 * 1024;

/** Running number, when (UTC), how many attempts. */
const NAME =
  /^reedpath-backup-(\d{1,9})-(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)Z-(\d{1,9})-attempts\.archive\.gz$/;

/** Whether a name is one that backups have, which cannot leave their folder. */
export const isBackupName = (name: unknown): name is string => typeof name === "string" && NAME.test(name);

interface Found extends Backup {
  /** Counts on with each backup, so that a clock set back makes none look old. */
  readonly number: number;
}

/** The backups in a folder. Every verb throws the system's error. */
export class Backups {
  private readonly growing = new Set<string>();

  constructor(
    private readonly folder: string,
    private readonly nowEpochMs: () => number = Date.now,
  ) {}

  /** The newest first; what is not a whole backup is passed over. */
  async list(): Promise<readonly Backup[]> {
    return (await this.found()).map(({ number: _, ...backup }) => backup);
  }

  /** @param attempts how many the backup will hold */
  async begin(attempts: number): Promise<PartFile> {
    await mkdir(this.folder, { recursive: true });
    await this.clean();
    const number = ((await this.found())[0]?.number ?? 0) + 1;
    const when = new Date(this.nowEpochMs()).toISOString().replace(/[-:]|\.\d+/g, "");
    const name = `reedpath-backup-${String(number).padStart(4, "0")}-${when}-${attempts}-attempts.archive.gz`;
    const part = await PartFile.begin(path.join(this.folder, name));
    this.growing.add(path.basename(part.part));
    return part;
  }

  /** Only once the new one stands is an old one deleted. */
  async finish(part: PartFile): Promise<void> {
    this.growing.delete(path.basename(part.part));
    await part.finish();
    // One too many does no harm: the new one stands.
    await this.dropOldest().catch(() => {});
  }

  private async dropOldest(): Promise<void> {
    for (const { name } of (await this.found()).slice(BACKUPS_KEPT)) {
      await rm(path.join(this.folder, name), { force: true });
    }
  }

  async abandon(part: PartFile): Promise<void> {
    this.growing.delete(path.basename(part.part));
    await part.abandon();
  }

  /**
   * A piece of a backup.
   *
   * @param name one that `isBackupName` finds right
   * @returns at most 4 MiB from there on; empty at the end
   */
  async read(name: string, fromByte: number): Promise<Uint8Array> {
    const handle = await open(path.join(this.folder, name), "r");
    try {
      const { buffer, bytesRead } = await handle.read(new Uint8Array(READ_BYTES), 0, READ_BYTES, fromByte);
      return buffer.slice(0, bytesRead);
    } finally {
      await handle.close();
    }
  }

  /** What a program that was ended in the middle left behind. */
  private async clean(): Promise<void> {
    const left = (await this.names()).filter(
      (name) => name.startsWith("reedpath-backup-") && name.endsWith(PART_ENDING) && !this.growing.has(name),
    );
    for (const name of left) await rm(path.join(this.folder, name), { force: true });
  }

  private async found(): Promise<readonly Found[]> {
    const named = (await this.names()).flatMap((name) => {
      const [, number, year, month, day, hour, minute, second, attempts] = NAME.exec(name)?.map(Number) ?? [];
      if (number === undefined || attempts === undefined) return [];
      const atEpochMs = Date.UTC(year ?? 0, (month ?? 1) - 1, day, hour, minute, second);
      return [{ name, number, attempts, atEpochMs }];
    });
    const sized = await Promise.all(
      named.map(async (one) => ({ ...one, sizeBytes: await sizeOf(path.join(this.folder, one.name)) })),
    );
    return sized
      .filter((one): one is Found => one.sizeBytes !== null)
      .sort((one, other) => other.number - one.number || (one.name < other.name ? 1 : -1));
  }

  private async names(): Promise<readonly string[]> {
    try {
      return await readdir(this.folder);
    } catch (error) {
      if ((error as { code?: string }).code === "ENOENT") return [];
      throw error;
    }
  }
}

/** Null where it went meanwhile, or is no file. */
async function sizeOf(file: string): Promise<number | null> {
  const about = await stat(file).catch(() => null);
  return about?.isFile() === true ? about.size : null;
}
