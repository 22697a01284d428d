import { constants } from "node:fs";
import { type FileHandle, open } from "node:fs/promises";
import path from "node:path";
import { type FileKind, fileKindOf, KNOWN_FILES } from "../core/archive/file-kinds.ts";
import type { OpenedFile, PieceResult } from "./bridge.ts";
import { causeOf } from "./files.ts";

/** Bytes of a file that are read at once. */
const READ_BYTES = 4 * 1024 * 1024;
/** More at once are a mistake of the hand. */
export const MOST_AT_ONCE = 20;

const MEBIBYTE = 1024 * 1024;
/** Above what any reader of tunes takes, so that it is the reader who names its own limit; archives hold takes. */
const LARGEST: Readonly<Record<FileKind, number>> = { tunes: 64 * MEBIBYTE, archive: 4096 * MEBIBYTE };

interface Held {
  readonly handle: FileHandle;
  readonly name: string;
}

/**
 * Files the player gave the program from outside: by a double click, by "open with", on the command line or by a second
 * start. Each is opened once, when it is given, and read by the window piece by piece; the window learns names, never paths.
 */
export class OpenedFiles {
  private waiting: OpenedFile[] = [];
  private readonly held = new Map<number, Held>();
  private lastId = 0;

  /**
   * @param paths absolute; anything else is refused, as is what is no file of ours, no plain file, or too large
   * @returns whether anything waits for the window now
   */
  async give(paths: readonly string[]): Promise<boolean> {
    for (const file of paths.slice(0, MOST_AT_ONCE)) {
      // Looked at first: the list is another once the window has collected meanwhile.
      const taken = await this.take(file);
      this.waiting.push(taken);
    }
    if (paths.length > MOST_AT_ONCE)
      this.waiting.push(refused(`Only the first ${MOST_AT_ONCE} of ${paths.length} files are opened.`));
    return this.waiting.length > 0;
  }

  /** What was given since the last time, each once. */
  collect(): readonly OpenedFile[] {
    const { waiting } = this;
    this.waiting = [];
    return waiting;
  }

  /**
   * A piece of a file.
   *
   * @returns at most 4 MiB from there on; empty at the end, after which the file is let go
   * @throws Error without such a file
   */
  async read(id: number, fromByte: number): Promise<PieceResult> {
    const file = this.held.get(id);
    if (file === undefined) throw new Error("There is no such file being read.");
    try {
      const { buffer, bytesRead } = await file.handle.read(
        new Uint8Array(READ_BYTES),
        0,
        READ_BYTES,
        fromByte,
      );
      if (bytesRead === 0) await this.letGo(id);
      return { kind: "read", bytes: buffer.slice(0, bytesRead) };
    } catch (error) {
      await this.letGo(id);
      return { kind: "failed", reason: notOpened(file.name, causeOf(error)) };
    }
  }

  /** A page that is gone reads no further; what it did not collect yet waits for the next. */
  async letGoOfRead(): Promise<void> {
    const waiting = new Set(this.waiting.flatMap((file) => (file.kind === "file" ? [file.id] : [])));
    await Promise.all([...this.held.keys()].filter((id) => !waiting.has(id)).map((id) => this.letGo(id)));
  }

  private async take(file: string): Promise<OpenedFile> {
    const name = path.basename(file);
    const holds = fileKindOf(name);
    if (!path.isAbsolute(file) || file.includes("\0")) return refused(`${name} is not the path of a file.`);
    if (holds === null) return refused(`${name} was not opened: it is not ${KNOWN_FILES}.`);
    try {
      return await this.hold(file, name, holds);
    } catch (error) {
      return refused(notOpened(name, causeOf(error)));
    }
  }

  private async hold(file: string, name: string, holds: FileKind): Promise<OpenedFile> {
    // Without waiting: a pipe that nobody writes to would hold the program up for ever.
    const handle = await open(file, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    const about = await handle.stat();
    const most = LARGEST[holds];
    const fault = !about.isFile()
      ? "that is not a plain file"
      : about.size > most
        ? `it has ${Math.ceil(about.size / MEBIBYTE)} MiB, at most ${most / MEBIBYTE} can be opened`
        : null;
    if (fault !== null) {
      await handle.close();
      return refused(notOpened(name, fault));
    }
    this.lastId += 1;
    this.held.set(this.lastId, { handle, name });
    return { kind: "file", id: this.lastId, name, holds, sizeBytes: about.size };
  }

  private async letGo(id: number): Promise<void> {
    const file = this.held.get(id);
    this.held.delete(id);
    await file?.handle.close().catch(() => {});
  }
}

const refused = (reason: string): OpenedFile => ({ kind: "refused", reason });
const notOpened = (name: string, cause: string) => `${name} was not opened: ${cause}.`;
