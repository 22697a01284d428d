import { app, session } from "electron";
import { declareAppScheme, serveAppScheme } from "./app-protocol.ts";
import { askPage } from "./asking.ts";
import { pathsHandedOver, pathsOfArguments } from "./given-paths.ts";
import { answerBridge } from "./ipc.ts";
import { setMenu } from "./menu.ts";
import { guardNavigation } from "./navigation.ts";
import { closeNetwork, guardRequests } from "./network.ts";
import { OpenedFiles } from "./opened-files.ts";
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
  const files = pathsOfArguments(process.argv.slice(1), process.cwd(), app.getAppPath());
  if (!app.requestSingleInstanceLock({ files })) {
    app.quit();
    return;
  }
  app.enableSandbox();
  closeNetwork();
  declareAppScheme();
  guardNavigation();
  const opened = new OpenedFiles();
  const show = () => {
    if (!focusWindow() && app.isReady()) openWindow(paths.preload, () => void opened.letGoOfRead());
  };
  const give = async (given: readonly string[]) => {
    if (await opened.give(given)) askPage("opened files");
  };
  app.on("second-instance", (_event, _argv, _folder, data) => {
    show();
    void give(pathsHandedOver(data));
  });
  // macOS tells files so, also before the program is ready.
  app.on("open-file", (event, file) => {
    event.preventDefault();
    show();
    void give([file]);
  });
  app.on("window-all-closed", () => {
    if (process.platform !== "darwin") app.quit();
  });
  await app.whenReady();
  guardPermissions(session.defaultSession);
  guardRequests(session.defaultSession);
  serveAppScheme(paths.windowRoot);
  answerBridge(opened);
  const isMac = process.platform === "darwin";
  setMenu({ isMac, isPackaged: app.isPackaged, onAbout: () => askPage("about") });
  await opened.give(files);
  show();
  app.on("activate", show);
}
