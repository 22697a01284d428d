import { app, ipcMain } from "electron";
import { CHANNELS } from "./channels.ts";
import { openRecording, saveFile } from "./files.ts";
import { checkWhole, isPlainFileName, refuseExtra, senderWindow } from "./ipc-checks.ts";
import { answerFileVerbs } from "./ipc-files.ts";
import { keepAwake } from "./keep-awake.ts";
import type { OpenedFiles } from "./opened-files.ts";

const LARGEST_FILE_BYTES = 1024 * 1024 * 1024;

/** Answers the verbs of the bridge. Each message is checked for its sender, then for its arguments. */
export function answerBridge(opened: OpenedFiles): void {
  answerFileVerbs();
  answerOpened(opened);
  ipcMain.handle(CHANNELS.saveFile, (event, name: unknown, bytes: unknown, ...rest: unknown[]) => {
    const window = senderWindow(event);
    refuseExtra("saveFile", rest);
    if (!isPlainFileName(name)) throw new Error("saveFile: the name is not a plain file name.");
    if (!(bytes instanceof Uint8Array)) throw new Error("saveFile: the content is not a Uint8Array.");
    if (bytes.byteLength > LARGEST_FILE_BYTES) throw new Error("saveFile: the content is above 1 GiB.");
    return saveFile(window, name, bytes);
  });
  ipcMain.handle(CHANNELS.openRecording, (event, ...rest: unknown[]) => {
    const window = senderWindow(event);
    refuseExtra("openRecording", rest);
    return openRecording(window);
  });
  ipcMain.handle(CHANNELS.version, (event, ...rest: unknown[]) => {
    senderWindow(event);
    refuseExtra("version", rest);
    return app.getVersion();
  });
  ipcMain.handle(CHANNELS.keepAwake, (event, awake: unknown, ...rest: unknown[]) => {
    senderWindow(event);
    refuseExtra("keepAwake", rest);
    if (typeof awake !== "boolean") throw new Error("keepAwake: the argument is not true or false.");
    keepAwake(awake);
  });
}

function answerOpened(opened: OpenedFiles): void {
  ipcMain.handle(CHANNELS.openedFiles, (event, ...rest: unknown[]) => {
    senderWindow(event);
    refuseExtra("openedFiles", rest);
    return opened.collect();
  });
  ipcMain.handle(CHANNELS.readOpenedFile, (event, id: unknown, fromByte: unknown, ...rest: unknown[]) => {
    senderWindow(event);
    refuseExtra("readOpenedFile", rest);
    checkWhole("readOpenedFile", "the number", id, Number.MAX_SAFE_INTEGER);
    checkWhole("readOpenedFile", "the place", fromByte, Number.MAX_SAFE_INTEGER);
    return opened.read(id, fromByte);
  });
}
