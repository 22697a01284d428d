import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import * as electron from "./electron-double.ts";

vi.mock("electron", () => import("./electron-double.ts"));

const { start } = await import("../../electron/shell.ts");
const { keepAwake } = await import("../../electron/keep-awake.ts");

const paths = { windowRoot: "/program/renderer", preload: "/program/electron/preload.cjs" };

const onlyWindow = () => {
  const [window] = electron.BrowserWindow.opened;
  if (window === undefined) throw new Error("no window was opened");
  return window;
};

beforeEach(() => {
  electron.app.requestSingleInstanceLock.mockReturnValue(true);
});
afterEach(() => {
  keepAwake(false);
  electron.forget();
});

describe("the start of the desktop program", () => {
  test("what has to be said before Electron is ready is said before", async () => {
    await start(paths);
    const ready = electron.order.indexOf("whenReady");
    expect(ready).toBeGreaterThan(0);
    for (const early of ["enableSandbox", "registerSchemesAsPrivileged", "appendSwitch"]) {
      expect(electron.order.indexOf(early), early).toBeGreaterThanOrEqual(0);
      expect(electron.order.lastIndexOf(early), early).toBeLessThan(ready);
    }
  });

  test("every guard is in place before the window opens", async () => {
    await start(paths);
    const opened = electron.order.indexOf("BrowserWindow");
    for (const guard of [
      "setPermissionCheckHandler",
      "setPermissionRequestHandler",
      "setDevicePermissionHandler",
      "onBeforeRequest",
      "handle",
    ]) {
      expect(electron.order.indexOf(guard), guard).toBeGreaterThanOrEqual(0);
      expect(electron.order.indexOf(guard), guard).toBeLessThan(opened);
    }
  });

  test("our scheme is declared once, with the privileges a database and a microphone need", async () => {
    await start(paths);
    expect(electron.protocol.registerSchemesAsPrivileged.mock.calls).toEqual([
      [
        [
          {
            scheme: "app",
            privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true },
          },
        ],
      ],
    ]);
  });

  test("names and proxies are taken away from the browser engine", async () => {
    await start(paths);
    expect(electron.app.commandLine.appendSwitch.mock.calls).toEqual([
      ["host-resolver-rules", "MAP * ~NOTFOUND"],
      ["no-proxy-server"],
      ["disable-background-networking"],
    ]);
  });

  test("a second program quits at once and opens nothing", async () => {
    electron.app.requestSingleInstanceLock.mockReturnValue(false);
    await start(paths);
    expect(electron.app.quit).toHaveBeenCalledOnce();
    expect(electron.order).toEqual([]);
  });

  test("starting it again brings the window that is open to the front", async () => {
    await start(paths);
    const window = onlyWindow();
    window.minimized = true;
    electron.app.emit("second-instance");
    expect(window.restore).toHaveBeenCalledOnce();
    expect(window.focus).toHaveBeenCalledOnce();
    expect(electron.BrowserWindow.opened).toHaveLength(1);
  });

  test("coming back to a program without a window opens one, with a window only focuses it", async () => {
    await start(paths);
    electron.app.emit("activate");
    expect(electron.BrowserWindow.opened).toHaveLength(1);
    electron.BrowserWindow.opened = [];
    electron.app.emit("activate");
    expect(electron.BrowserWindow.opened).toHaveLength(1);
  });
});

describe("the window", () => {
  test("its page is isolated and has nothing of Node", async () => {
    await start(paths);
    expect(onlyWindow().options.webPreferences).toEqual({
      preload: paths.preload,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      webviewTag: false,
      autoplayPolicy: "no-user-gesture-required",
      backgroundThrottling: false,
      spellcheck: false,
    });
  });

  test("the page's address is this literal, because the history hangs on it", async () => {
    await start(paths);
    expect(onlyWindow().loadURL).toHaveBeenCalledWith("app://reedpath/index.html");
  });

  test("it is shown when it has something to show", async () => {
    await start(paths);
    const window = onlyWindow();
    expect(window.options.show).toBe(false);
    expect(window.show).not.toHaveBeenCalled();
    window.emit("ready-to-show");
    expect(window.show).toHaveBeenCalledOnce();
  });

  test.each(["did-navigate", "render-process-gone"])("the display may sleep again after %s", async (end) => {
    await start(paths);
    keepAwake(true);
    electron.webContents.emit(end);
    expect(electron.powerSaveBlocker.stop).toHaveBeenCalledExactlyOnceWith(7);
  });

  test("the display may sleep again when the window is closed", async () => {
    await start(paths);
    keepAwake(true);
    onlyWindow().emit("closed");
    expect(electron.powerSaveBlocker.stop).toHaveBeenCalledExactlyOnceWith(7);
  });

  test("closing it ends the program, except on macOS, where programs stay", async () => {
    await start(paths);
    electron.app.emit("window-all-closed");
    expect(electron.app.quit).toHaveBeenCalledTimes(process.platform === "darwin" ? 0 : 1);
  });
});
