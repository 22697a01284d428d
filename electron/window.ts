import { BrowserWindow } from "electron";
import { abandonFiles } from "./ipc-files.ts";
import { keepAwake } from "./keep-awake.ts";
import { keepPlace, windowPlace } from "./kept-place.ts";
import { APP_URL, PRODUCT_NAME } from "./product.ts";
import { LEAST_SIZE } from "./window-place.ts";

/** A page that is gone, or starts again, no longer practises and finishes no file. */
function endWhatThePageBegan(window: BrowserWindow, onGone: () => void): void {
  const release = () => {
    keepAwake(false);
    void abandonFiles();
    onGone();
  };
  window.on("closed", release);
  window.webContents.on("render-process-gone", release);
  window.webContents.on("did-navigate", release);
}

/**
 * Opens the one window where it last stood.
 *
 * @param preload absolute path of the built preload script
 * @param onGone  called whenever its page is gone or begins again
 */
export function openWindow(preload: string, onGone: () => void): BrowserWindow {
  const { area, restore } = windowPlace();
  const window = new BrowserWindow({
    title: PRODUCT_NAME,
    ...area,
    minWidth: LEAST_SIZE.width,
    minHeight: LEAST_SIZE.height,
    show: false,
    webPreferences: {
      preload,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      webviewTag: false,
      // The count-in starts from a pedal or a timer, not only from a click.
      autoplayPolicy: "no-user-gesture-required",
      // Listening goes on while another window, such as the sheet music, lies on top.
      backgroundThrottling: false,
      // The spelling checker would fetch dictionaries.
      spellcheck: false,
    },
  });
  window.once("ready-to-show", () => {
    restore(window);
    window.show();
  });
  keepPlace(window);
  endWhatThePageBegan(window, onGone);
  // A page that cannot be loaded must not leave a program without a window.
  window.loadURL(APP_URL).catch(() => window.show());
  return window;
}

/** Brings the open window to the front. @returns false when none is open */
export function focusWindow(): boolean {
  const [window] = BrowserWindow.getAllWindows();
  if (window === undefined) return false;
  if (window.isMinimized()) window.restore();
  window.show();
  window.focus();
  return true;
}
