/**
 * What the desktop shell can do for the window, as types only: the window imports this file with `import type`.
 * In a plain browser `window.reedpath` is absent, and the window uses a download link and a file input instead.
 */

/** How writing a file ended. `reason` is one plain sentence for the player. */
export type SaveResult =
  | { readonly kind: "saved"; readonly name: string }
  | { readonly kind: "cancelled" }
  | { readonly kind: "failed"; readonly reason: string };

/** What the player chose to open. `bytes` is the whole file; `reason` is one plain sentence for the player. */
export type OpenResult =
  | { readonly kind: "opened"; readonly name: string; readonly bytes: Uint8Array }
  | { readonly kind: "cancelled" }
  | { readonly kind: "failed"; readonly reason: string };

/** Whether a file could be begun that is then written piece by piece; `id` is its number until it is finished. */
export type BeginResult =
  | { readonly kind: "begun"; readonly id: number }
  | { readonly kind: "cancelled" }
  | { readonly kind: "failed"; readonly reason: string };

/** How writing a piece ended; after a failure nothing is left of the file. */
export type AddResult = { readonly kind: "added" } | { readonly kind: "failed"; readonly reason: string };

/** A backup on the disk. */
export interface Backup {
  readonly name: string;
  readonly atEpochMs: number;
  readonly attempts: number;
  readonly sizeBytes: number;
}

export type BackupsResult =
  | { readonly kind: "backups"; readonly backups: readonly Backup[] }
  | { readonly kind: "failed"; readonly reason: string };

/** A piece of a backup; empty at its end. */
export type PieceResult =
  | { readonly kind: "read"; readonly bytes: Uint8Array }
  | { readonly kind: "failed"; readonly reason: string };

/**
 * A file the player gave the program from outside: by a double click, "open with", the command line or a second start.
 * `id` is its number until it is read to its end; `reason` is one plain sentence for the player.
 */
export type OpenedFile =
  | {
      readonly kind: "file";
      readonly id: number;
      readonly name: string;
      readonly holds: "tunes" | "archive";
      readonly sizeBytes: number;
    }
  | { readonly kind: "refused"; readonly reason: string };

/** What the shell wants of the window: to say what the program is, or to collect files that were opened. */
export type ShellAsk = "about" | "opened files";

/** The verbs the preload script puts on `window.reedpath`. Each rejects with an Error when its argument is not as described. */
export interface ReedpathBridge {
  /**
   * Asks where to save, then writes the file whole or not at all.
   *
   * @param suggestedName file name without folder, 1 to 120 characters, none of `\ / : * ? " < > |`, no leading dot
   * @param bytes         the content, at most 1 GiB
   */
  saveFile(suggestedName: string, bytes: Uint8Array): Promise<SaveResult>;
  /**
   * Asks where to save a file that is written piece by piece and stands there once it is finished.
   *
   * @param suggestedName as for `saveFile`
   */
  beginFile(suggestedName: string): Promise<BeginResult>;
  /** The same for a backup of so many attempts, whose place and name are the program's own; never "cancelled". */
  beginBackup(attempts: number): Promise<BeginResult>;
  /** @param bytes the next piece, at most 8 MiB */
  addToFile(id: number, bytes: Uint8Array): Promise<AddResult>;
  /** Of a backup the oldest beyond ten go, once it stands. */
  finishFile(id: number): Promise<SaveResult>;
  /** Leaves nothing of a file that was begun; a window that closes does the same. */
  abandonFile(id: number): Promise<void>;
  /** The newest first. */
  backups(): Promise<BackupsResult>;
  /** @param fromByte where the piece begins, at most 4 MiB of which come */
  readBackup(name: string, fromByte: number): Promise<PieceResult>;
  /** Asks for a recording and reads it; files above 512 MiB are refused with a reason. */
  openRecording(): Promise<OpenResult>;
  /** The files opened since the last time, each once. */
  openedFiles(): Promise<readonly OpenedFile[]>;
  /** @param fromByte where the piece begins, at most 4 MiB of which come; after an empty one the file is let go */
  readOpenedFile(id: number, fromByte: number): Promise<PieceResult>;
  /** @returns ends it */
  onAsked(listener: (what: ShellAsk) => void): () => void;
  /** The program's version, as in package.json. */
  version(): Promise<string>;
  /** Keeps the display from sleeping while `awake`; ends by itself when the window closes. */
  keepAwake(awake: boolean): Promise<void>;
}

declare global {
  interface Window {
    readonly reedpath?: ReedpathBridge;
  }
}
