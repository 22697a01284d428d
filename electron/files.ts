import { readFile, stat } from "node:fs/promises";
import path from "node:path";
import { type BrowserWindow, dialog } from "electron";
import type { OpenResult, SaveResult } from "./bridge.ts";
import { writeWhole } from "./write-whole.ts";

const MEBIBYTE = 1024 * 1024;

/** 46 minutes of stereo at 48 kHz with 16 bits [calc: 2^29 bytes / (48000·2·2 bytes a second) = 2796 s]. */
export const LARGEST_RECORDING_BYTES = 512 * MEBIBYTE;

const RECORDINGS = ["wav", "flac", "mp3", "m4a", "aac", "ogg", "opus", "webm"];

const CAUSES: Readonly<Record<string, string>> = {
  EACCES: "this program may not use that place",
  EPERM: "this program may not use that place",
  EROFS: "that disk cannot be written to",
  ENOSPC: "the disk is full",
  EDQUOT: "the disk is full",
  ENOENT: "that folder or file is no longer there",
  EISDIR: "that is a folder",
};

/** Turns an error of the file system into the end of a sentence a player can act on. */
export function causeOf(error: unknown): string {
  const code = error instanceof Error && "code" in error ? String(error.code) : "unknown error";
  return CAUSES[code] ?? code;
}

/** The place the player chose for a file, whole; null if none. */
export async function askWhereToSave(window: BrowserWindow, suggestedName: string): Promise<string | null> {
  const extension = path.extname(suggestedName).slice(1);
  const { canceled, filePath } = await dialog.showSaveDialog(window, {
    defaultPath: suggestedName,
    filters: extension === "" ? [] : [{ name: extension.toUpperCase(), extensions: [extension] }],
  });
  return canceled || filePath === "" ? null : filePath;
}

/** Asks where to save, then writes the file whole or not at all. */
export async function saveFile(
  window: BrowserWindow,
  suggestedName: string,
  bytes: Uint8Array,
): Promise<SaveResult> {
  const filePath = await askWhereToSave(window, suggestedName);
  if (filePath === null) return { kind: "cancelled" };
  const name = path.basename(filePath);
  try {
    await writeWhole(filePath, bytes);
    return { kind: "saved", name };
  } catch (error) {
    return { kind: "failed", reason: `${name} was not saved: ${causeOf(error)}.` };
  }
}

/** Asks for a recording and reads it. */
export async function openRecording(window: BrowserWindow): Promise<OpenResult> {
  const { canceled, filePaths } = await dialog.showOpenDialog(window, {
    properties: ["openFile"],
    filters: [
      { name: "Recordings", extensions: RECORDINGS },
      { name: "All files", extensions: ["*"] },
    ],
  });
  const [file] = filePaths;
  if (canceled || file === undefined) return { kind: "cancelled" };
  const name = path.basename(file);
  try {
    const { size } = await stat(file);
    if (size > LARGEST_RECORDING_BYTES) {
      const sizeMebibytes = Math.round(size / MEBIBYTE);
      return { kind: "failed", reason: `${name} has ${sizeMebibytes} MiB; at most 512 MiB can be opened.` };
    }
    return { kind: "opened", name, bytes: new Uint8Array(await readFile(file)) };
  } catch (error) {
    return { kind: "failed", reason: `${name} was not opened: ${causeOf(error)}.` };
  }
}
