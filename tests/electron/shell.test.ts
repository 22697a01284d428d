import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test, vi } from "vitest";
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

let folder = "";
const realArguments = process.argv;
beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), "reedpath-shell-"));
});
afterAll(() => rm(folder, { recursive: true }));
beforeEach(() => {
  process.argv = ["electron", "/program"];
  electron.app.getPath.mockReturnValue(folder);
  electron.app.requestSingleInstanceLock.mockReturnValue(true);
});
afterEach(async () => {
  process.argv = realArguments;
  // What was opened is let go, as when the page begins anew.
  if (electron.handlers.size > 0) collected();
  electron.webContents.emit("did-navigate");
  keepAwake(false);
  electron.forget();
  await rm(placeFile(), { force: true });
});

const placeFile = () => path.join(folder, "window-place.json");
const collected = () =>
  (electron.handlers.get("reedpath:opened-files") as unknown as (event: object) => unknown[])({
    senderFrame: { url: "app://reedpath/index.html", parent: null },
    sender: electron.webContents,
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

describe("files opened from outside", () => {
  const A_TUNE = "X:1\nT:Village Reel\nK:D\nA|\n";
  const tune = () => path.join(folder, "reel.abc");
  beforeAll(() => writeFile(tune(), A_TUNE));
  const aTune = (id: number) => ({
    kind: "file",
    id,
    name: "reel.abc",
    holds: "tunes",
    sizeBytes: A_TUNE.length,
  });

  test("those of the command line wait for the page; the program's own folder and switches are none", async () => {
    process.argv = ["electron", "--inspect=0", "/program", "--no-sandbox", tune()];
    await start(paths);
    expect(electron.app.requestSingleInstanceLock).toHaveBeenCalledExactlyOnceWith({ files: [tune()] });
    expect(collected()).toEqual([aTune(1)]);
    expect(collected()).toEqual([]);
  });

  test("a second start hands its files to the first window, which comes to the front and is told", async () => {
    await start(paths);
    const window = onlyWindow();
    window.minimized = true;
    electron.app.emit("second-instance", {}, ["electron", "/elsewhere.abc"], "/", { files: [tune()] });
    expect(window.restore).toHaveBeenCalledOnce();
    await vi.waitFor(() => expect(electron.webContents.send).toHaveBeenCalled());
    expect(electron.webContents.send.mock.calls).toEqual([["reedpath:asked", "opened files"]]);
    expect(collected()).toEqual([aTune(1)]);
    expect(electron.BrowserWindow.opened).toHaveLength(1);
  });

  test.each([
    [undefined],
    [null],
    ["/reel.abc"],
    [{ files: "/reel.abc" }],
    [{ files: [7, {}, "reel.abc", "../reel.abc"] }],
  ])("a second start that hands over %j opens nothing", async (data) => {
    await start(paths);
    electron.app.emit("second-instance", {}, [], "/", data);
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(electron.webContents.send).not.toHaveBeenCalled();
    expect(collected()).toEqual([]);
  });

  test("macOS' own event counts, also before the program is ready", async () => {
    electron.app.isReady.mockReturnValue(false);
    const starting = start(paths);
    const preventDefault = vi.fn();
    electron.app.emit("open-file", { preventDefault }, tune());
    expect(preventDefault).toHaveBeenCalledOnce();
    expect(electron.BrowserWindow.opened).toEqual([]);
    electron.app.isReady.mockReturnValue(true);
    await starting;
    await vi.waitFor(() => expect(electron.webContents.send).toHaveBeenCalled());
    expect(collected()).toEqual([aTune(1)]);
    expect(electron.BrowserWindow.opened).toHaveLength(1);
  });

  test("the menu asks the page to say what the program is", async () => {
    await start(paths);
    const template = electron.Menu.buildFromTemplate.mock.calls[0]?.[0] as {
      submenu?: { label?: string; click?: () => void }[];
    }[];
    const about = template.flatMap(({ submenu }) => (Array.isArray(submenu) ? submenu : []));
    about.find(({ label }) => label === "About Reedpath")?.click?.();
    expect(electron.webContents.send.mock.calls).toEqual([["reedpath:asked", "about"]]);
  });
});

describe("where the window stands", () => {
  const opened = async (kept?: string) => {
    if (kept !== undefined) await writeFile(placeFile(), kept);
    await start(paths);
    return onlyWindow();
  };
  const kept = { x: 200, y: 100, width: 1100, height: 700, isMaximised: false, isFullScreen: false };

  test("the first time it has its first size, in the middle", async () => {
    const { options } = await opened();
    expect([options.width, options.height, options.minWidth, options.minHeight]).toEqual([
      1280, 860, 800, 600,
    ]);
    expect(options).not.toHaveProperty("x");
  });

  test("closed and opened again it stands where it stood", async () => {
    const window = await opened();
    window.bounds = { x: 200, y: 100, width: 1100, height: 700 };
    window.emit("close");
    expect(JSON.parse(await readFile(placeFile(), "utf8"))).toEqual(kept);
    electron.forget();
    const again = await opened();
    expect(again.options).toMatchObject({ x: 200, y: 100, width: 1100, height: 700 });
    again.emit("ready-to-show");
    expect(again.maximize).not.toHaveBeenCalled();
    expect(again.setFullScreen).not.toHaveBeenCalled();
  });

  test.each([
    ["maximised", { isMaximised: true }, "maximize"],
    ["filling the screen", { isFullScreen: true }, "setFullScreen"],
  ] as const)("it opens %s where it was closed so, with its own size beneath", async (_, how, call) => {
    const window = await opened(JSON.stringify({ ...kept, ...how }));
    expect(window.options).toMatchObject({ x: 200, width: 1100 });
    window.emit("ready-to-show");
    expect(window[call]).toHaveBeenCalledOnce();
  });

  test.each(["", "{", "null", "[]", '{"x":1}', "x".repeat(5000), JSON.stringify({ ...kept, width: -1 })])(
    "a damaged file (%j) is as none",
    async (text) => {
      const { options } = await opened(text);
      expect([options.width, options.height]).toEqual([1280, 860]);
      expect(options).not.toHaveProperty("x");
    },
  );

  test("a folder that cannot be written to is no trouble", async () => {
    electron.app.getPath.mockReturnValue(path.join(folder, "gone"));
    const window = await opened();
    expect(() => window.emit("close")).not.toThrow();
  });
});
