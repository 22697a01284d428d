import type { AddResult, BeginResult, SaveResult } from "./bridge.ts";
import type { PartFile } from "./part-file.ts";

/** More are a mistake of the window's. */
const MOST_AT_ONCE = 4;

/** How a file of one kind comes to stand, or goes. */
export interface Ending {
  /** As the player is told it. */
  readonly name: string;
  readonly finish: () => Promise<void>;
  readonly abandon: () => Promise<void>;
}

interface Growing extends Ending {
  readonly part: PartFile;
  /** The piece being written, after which the next may be. */
  last: Promise<unknown>;
}

/** Files the window writes piece by piece, by number. `reason` is a plain sentence for the player. */
export class GrowingFiles {
  private readonly files = new Map<number, Growing>();
  private lastId = 0;

  constructor(private readonly reasonOf: (name: string, error: unknown) => string) {}

  begin(part: PartFile, ending: Ending): BeginResult {
    this.lastId += 1;
    this.files.set(this.lastId, { ...ending, part, last: Promise.resolve() });
    return { kind: "begun", id: this.lastId };
  }

  /** @throws Error when too many are open */
  refuseTooMany(): void {
    if (this.files.size >= MOST_AT_ONCE) throw new Error(`${MOST_AT_ONCE} files are being written already.`);
  }

  /** @throws Error without such a file */
  async add(id: number, bytes: Uint8Array): Promise<AddResult> {
    const file = this.get(id);
    const written = file.last.then(() => file.part.add(bytes));
    file.last = written.catch(() => {});
    try {
      await written;
      return { kind: "added" };
    } catch (error) {
      await this.abandon(id);
      return { kind: "failed", reason: this.reasonOf(file.name, error) };
    }
  }

  /** @throws Error without such a file */
  async finish(id: number): Promise<SaveResult> {
    const file = this.get(id);
    this.files.delete(id);
    try {
      await file.last;
      await file.finish();
      return { kind: "saved", name: file.name };
    } catch (error) {
      return { kind: "failed", reason: this.reasonOf(file.name, error) };
    }
  }

  /** Nothing is left of it; nor is anything done where there is none. */
  async abandon(id: number): Promise<void> {
    const file = this.files.get(id);
    this.files.delete(id);
    await file?.last;
    await file?.abandon();
  }

  async abandonAll(): Promise<void> {
    await Promise.all([...this.files.keys()].map((id) => this.abandon(id)));
  }

  private get(id: number): Growing {
    const file = this.files.get(id);
    if (file === undefined) throw new Error("There is no such file being written.");
    return file;
  }
}
