import { BrowserWindow, type IpcMainInvokeEvent } from "electron";
import { isAppUrl } from "./product.ts";

/** A file name that every system accepts and that cannot leave its folder. */
export function isPlainFileName(value: unknown): value is string {
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
export function senderWindow(event: IpcMainInvokeEvent): BrowserWindow {
  const frame = event.senderFrame;
  const window = BrowserWindow.fromWebContents(event.sender);
  if (frame === null || frame.parent !== null || !isAppUrl(frame.url) || window === null) {
    throw new Error("This message did not come from the program's own page.");
  }
  return window;
}

export function refuseExtra(verb: string, rest: readonly unknown[]): void {
  if (rest.length > 0) throw new Error(`${verb}: ${rest.length} argument(s) too many.`);
}

/** @throws Error unless the value is a whole number in that range */
export function checkWhole(
  verb: string,
  what: string,
  value: unknown,
  most: number,
): asserts value is number {
  if (typeof value !== "number" || !Number.isInteger(value) || value < 0 || value > most) {
    throw new Error(`${verb}: ${what} is not a whole number from 0 to ${most}.`);
  }
}
