import { BrowserWindow } from "electron";
import { abandonFiles } from "./ipc-files.ts";
import { keepAwake } from "./keep-awake.ts";
import { APP_URL, PRODUCT_NAME } from "./product.ts";

/** A page that is gone, or starts again, no longer practises and finishes no file. */
function endWhatThePageBegan(window: BrowserWindow): void {
  const release = () => {
    keepAwake(false);
    void abandonFiles();
  };
  window.on("closed", release);
  window.webContents.on("render-process-gone", release);
  window.webContents.on("did-navigate", release);
}

/**
 * Opens the one window.
 *
 * @param preload absolute path of the built preload script
 */
export function openWindow(preload: string): BrowserWindow {
  const window = new BrowserWindow({
    title: PRODUCT_NAME,
    width: 1280,
    height: 860,
    minWidth: 800,
    minHeight: 600,
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
  window.once("ready-to-show", () => window.show());
  endWhatThePageBegan(window);
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
