import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { canDownloadElectron, downloadElectron, findElectron } from "../../electron/electron-binary.ts";
import { chooseWay, type Surroundings } from "../../electron/launch.ts";

const desk: Surroundings = {
  wantsBrowser: false,
  platform: "linux",
  env: { DISPLAY: ":0" },
  electron: "/program/electron",
  nodeVersion: "20.20.2",
};

describe("window or browser", () => {
  test.each<[string, Partial<Surroundings>]>([
    ["X11", {}],
    ["Wayland", { env: { WAYLAND_DISPLAY: "wayland-0" } }],
    ["macOS", { platform: "darwin", env: {} }],
    ["Windows", { platform: "win32", env: {} }],
  ])("with Electron's program and %s the window opens", (_name, change) => {
    expect(chooseWay({ ...desk, ...change })).toEqual({ kind: "window", electron: "/program/electron" });
  });

  test("who asks for the browser gets it", () => {
    expect(chooseWay({ ...desk, wantsBrowser: true })).toEqual({
      kind: "browser",
      why: "You asked for the browser",
    });
  });

  test.each([{}, { DISPLAY: "" }])(
    "without a display (%j) it is the browser, and nothing is downloaded",
    (env) => {
      const without = { ...desk, env, nodeVersion: "24.1.0" };
      for (const electron of [null, "/program/electron"]) {
        expect(chooseWay({ ...without, electron })).toEqual({ kind: "browser", why: "There is no display" });
      }
    },
  );

  // [F] engines of electron 45.4.1, package.json: node >= 22.12.0
  test("without Electron's program Node 22 fetches it", () => {
    expect(chooseWay({ ...desk, electron: null, nodeVersion: "22.12.0" })).toEqual({ kind: "download" });
    expect(canDownloadElectron("24.0.0")).toBe(true);
  });

  test("Node 20 cannot, and says which it would take", () => {
    const way = chooseWay({ ...desk, electron: null });
    expect(way).toEqual({
      kind: "browser",
      why: expect.stringContaining("Node 22.12 or later (this is 20.20.2)"),
    });
  });
});

describe("Electron's program", () => {
  let root = "";
  const home = () => path.join(root, "node_modules", "electron");
  beforeEach(async () => {
    root = await mkdtemp(path.join(os.tmpdir(), "reedpath-electron-"));
    await mkdir(path.join(home(), "dist"), { recursive: true });
  });
  afterEach(() => rm(root, { recursive: true }));

  /** An installer that, like Electron's own, leaves the program and a note where it lies. */
  const INSTALLER = `
    const fs = require("fs"), path = require("path");
    fs.writeFileSync(path.join(__dirname, "dist", "electron"), "");
    fs.writeFileSync(path.join(__dirname, "path.txt"), "electron");`;

  test("is found only when both the note and the program are there", async () => {
    expect(findElectron(root)).toBeNull();
    await writeFile(path.join(home(), "path.txt"), "electron");
    expect(findElectron(root)).toBeNull();
    await writeFile(path.join(home(), "dist", "electron"), "");
    expect(findElectron(root)).toBe(path.join(home(), "dist", "electron"));
  });

  test("is fetched by the package's own installer", async () => {
    await writeFile(path.join(home(), "install.js"), INSTALLER);
    expect(await downloadElectron(root)).toBe(path.join(home(), "dist", "electron"));
  });

  test.each([
    ["fails", "console.error(new Error('no network').stack); process.exit(1);"],
    ["never ends", "setInterval(() => {}, 1000);"],
  ])("is given up when the installer %s", async (_name, script) => {
    await writeFile(path.join(home(), "install.js"), script);
    expect(await downloadElectron(root, 1)).toBeNull();
  });

  test("is given up when the package itself is missing", async () => {
    expect(await downloadElectron(root)).toBeNull();
  });
});
