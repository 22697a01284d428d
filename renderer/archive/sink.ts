import type { BeginResult, ReedpathBridge, SaveResult } from "../../electron/bridge.ts";

/** Where a file goes that is made piece by piece. */
export interface Sink {
  /** Rejects with a sentence where the piece cannot be put away. */
  add(bytes: Uint8Array<ArrayBuffer>): Promise<void>;
  finish(): Promise<SaveResult>;
  /** Leaves nothing behind. */
  abandon(): Promise<void>;
}

export type OpenedSink =
  | { readonly kind: "open"; readonly sink: Sink }
  | { readonly kind: "cancelled" }
  | { readonly kind: "failed"; readonly reason: string };

export type FilesOfBridge = Pick<
  ReedpathBridge,
  "beginFile" | "beginBackup" | "addToFile" | "finishFile" | "abandonFile"
>;

/** A file where the player says; in a plain browser it goes to the downloads. */
export async function openFile(name: string, type: string): Promise<OpenedSink> {
  const bridge = window.reedpath;
  if (bridge === undefined) return { kind: "open", sink: new DownloadSink(name, type) };
  return openOnDisk(bridge, await bridge.beginFile(name));
}

/** A backup of so many attempts, where the shell keeps them. */
export async function openBackup(bridge: FilesOfBridge, attempts: number): Promise<OpenedSink> {
  return openOnDisk(bridge, await bridge.beginBackup(attempts));
}

function openOnDisk(bridge: FilesOfBridge, begun: BeginResult): OpenedSink {
  if (begun.kind !== "begun") return begun;
  const { id } = begun;
  const sink: Sink = {
    add: async (bytes) => {
      const answer = await bridge.addToFile(id, bytes);
      if (answer.kind === "failed") throw new Error(answer.reason);
    },
    finish: () => bridge.finishFile(id),
    abandon: () => bridge.abandonFile(id),
  };
  return { kind: "open", sink };
}

/** What a browser needs to have read the file. */
const READING_MS = 60_000;

/** The browser holds pieces of a Blob on its disk where they are many. */
class DownloadSink implements Sink {
  private pieces: Blob[] = [];

  constructor(
    private readonly name: string,
    private readonly type: string,
  ) {}

  async add(bytes: Uint8Array<ArrayBuffer>): Promise<void> {
    this.pieces.push(new Blob([bytes]));
  }

  async finish(): Promise<SaveResult> {
    const url = URL.createObjectURL(new Blob(this.pieces, { type: this.type }));
    const link = document.createElement("a");
    link.href = url;
    link.download = this.name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), READING_MS);
    return { kind: "saved", name: this.name };
  }

  async abandon(): Promise<void> {
    this.pieces = [];
  }
}
