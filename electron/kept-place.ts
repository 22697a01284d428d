import { readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { app, type BrowserWindow, screen } from "electron";
import { placeOf, readPlace, type WindowPlace } from "./window-place.ts";

const fileOf = () => path.join(app.getPath("userData"), "window-place.json");

/** Anything longer was not written by us. */
const LONGEST = 4096;

function lastPlace(): WindowPlace | null {
  try {
    const text = readFileSync(fileOf(), "utf8");
    return text.length > LONGEST ? null : readPlace(text);
  } catch {
    return null;
  }
}

/** Where the window opens, how large, and what is to be done once it is there. */
export function windowPlace() {
  const last = lastPlace();
  // The main screen is not always the first of the list.
  const main = screen.getPrimaryDisplay();
  const others = screen.getAllDisplays().filter(({ id }) => id !== main.id);
  const area = placeOf(
    last,
    [main, ...others].map(({ workArea }) => workArea),
  );
  const restore = (window: BrowserWindow) => {
    if (last?.isMaximised === true) window.maximize();
    if (last?.isFullScreen === true) window.setFullScreen(true);
  };
  return { area, restore };
}

/** Keeps where the window stands when it is closed. What cannot be written is not worth a word: it opens as at first. */
export function keepPlace(window: BrowserWindow): void {
  window.on("close", () => {
    const { x, y, width, height } = window.getNormalBounds();
    const place = {
      x,
      y,
      width,
      height,
      isMaximised: window.isMaximized(),
      isFullScreen: window.isFullScreen(),
    };
    const part = `${fileOf()}.part`;
    try {
      // At once, as the program may end right after; whole or not at all.
      writeFileSync(part, `${JSON.stringify(place)}\n`);
      renameSync(part, fileOf());
    } catch {
      rmSync(part, { force: true });
    }
  });
}
