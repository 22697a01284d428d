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

/** The verbs the preload script puts on `window.reedpath`. Each rejects with an Error when its argument is not as described. */
export interface ReedpathBridge {
  /**
   * Asks where to save, then writes the file whole or not at all.
   *
   * @param suggestedName file name without folder, 1 to 120 characters, none of `\ / : * ? " < > |`, no leading dot
   * @param bytes         the content, at most 1 GiB
   */
  saveFile(suggestedName: string, bytes: Uint8Array): Promise<SaveResult>;
  /** Asks for a recording and reads it; files above 512 MiB are refused with a reason. */
  openRecording(): Promise<OpenResult>;
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
