import { BrowserWindow } from "electron";
import type { ShellAsk } from "./bridge.ts";
import { ASKED } from "./channels.ts";

/** Lets the page know that something is wanted of it: a word, never data. A page that begins collects files by itself. */
export function askPage(what: ShellAsk): void {
  BrowserWindow.getAllWindows()[0]?.webContents.send(ASKED, what);
}
