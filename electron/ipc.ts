import { app, BrowserWindow, type IpcMainInvokeEvent, ipcMain } from "electron";
import { CHANNELS } from "./channels.ts";
import { openRecording, saveFile } from "./files.ts";
import { keepAwake } from "./keep-awake.ts";
import { isAppUrl } from "./product.ts";

const LARGEST_FILE_BYTES = 1024 * 1024 * 1024;

/** A file name that every system accepts and that cannot leave its folder. */
function isPlainFileName(value: unknown): value is string {
  return (
    typeof value === "string" &&
    value.length >= 1 &&
    value.length <= 120 &&
    !value.startsWith(".") &&
    !/[\\/:*?"<>|\p{Cc}]/u.test(value)
  );
}

/**
 * The window a message came from.
 *
 * @throws Error unless the message comes from the main frame of our own page
 */
function senderWindow(event: IpcMainInvokeEvent): BrowserWindow {
  const frame = event.senderFrame;
  const window = BrowserWindow.fromWebContents(event.sender);
  if (frame === null || frame.parent !== null || !isAppUrl(frame.url) || window === null) {
    throw new Error("This message did not come from the program's own page.");
  }
  return window;
}

function refuseExtra(verb: string, rest: readonly unknown[]): void {
  if (rest.length > 0) throw new Error(`${verb}: ${rest.length} argument(s) too many.`);
}

/** Answers the verbs of the bridge. Each message is checked for its sender, then for its arguments. */
export function answerBridge(): void {
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
