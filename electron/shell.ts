import { app, session } from "electron";
import { declareAppScheme, serveAppScheme } from "./app-protocol.ts";
import { answerBridge } from "./ipc.ts";
import { setMenu } from "./menu.ts";
import { guardNavigation } from "./navigation.ts";
import { closeNetwork, guardRequests } from "./network.ts";
import { guardPermissions } from "./permissions.ts";
import { focusWindow, openWindow } from "./window.ts";

/** Where the built parts lie; absolute paths. */
export interface ShellPaths {
  /** Folder of the built window, holding index.html. */
  readonly windowRoot: string;
  /** The built preload script. */
  readonly preload: string;
}

/**
 * Opens the desktop program, or hands over to the one that already runs: two programs must not write one database.
 * Everything up to the first wait has to happen before the app is ready.
 */
export async function start(paths: ShellPaths): Promise<void> {
  if (!app.requestSingleInstanceLock()) {
    app.quit();
    return;
  }
  app.enableSandbox();
  closeNetwork();
  declareAppScheme();
  guardNavigation();
  app.on("second-instance", () => focusWindow());
  app.on("window-all-closed", () => {
    if (process.platform !== "darwin") app.quit();
  });
  await app.whenReady();
  guardPermissions(session.defaultSession);
  guardRequests(session.defaultSession);
  serveAppScheme(paths.windowRoot);
  answerBridge();
  setMenu({ isMac: process.platform === "darwin", isPackaged: app.isPackaged });
  openWindow(paths.preload);
  app.on("activate", () => {
    if (!focusWindow()) openWindow(paths.preload);
  });
}
