import { readdirSync, readFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { PROJECT_ROOT } from "../../electron/build.mjs";
import { CONTENT_SECURITY_POLICY } from "../../electron/response-headers.ts";
import * as electron from "./electron-double.ts";
import { fusesInWords, fusesOfConfig } from "./fuses.ts";

vi.mock("electron", () => import("./electron-double.ts"));

const { start } = await import("../../electron/shell.ts");

/**
 * Electron's own list, "Security", section "Checklist: Security recommendations": its items by number and heading.
 * [F] docs/tutorial/security.md of electron/electron at commit 01e0ddf3: 1 to 17, read there.
 * [F] 18: named with number and heading in electron-builder 26.17.0, scheme.json. [M] 19, 20.
 */
const CHECKLIST = {
  1: "Only load secure content",
  2: "Do not enable Node.js integration for remote content",
  3: "Enable Context Isolation",
  4: "Enable process sandboxing",
  5: "Handle session permission requests from remote content",
  6: "Do not disable webSecurity",
  7: "Define a Content Security Policy",
  8: "Do not enable allowRunningInsecureContent",
  9: "Do not enable experimental features",
  10: "Do not use enableBlinkFeatures",
  11: "Do not use allowpopups for WebViews",
  12: "Verify WebView options before creation",
  13: "Disable or limit navigation",
  14: "Disable or limit creation of new windows",
  15: "Do not use shell.openExternal with untrusted content",
  16: "Use a current version of Electron",
  17: "Validate the sender of all IPC messages",
  18: "Avoid usage of the file:// protocol and prefer usage of custom protocols",
  19: "Check which fuses you can change",
  20: "Do not expose Electron APIs to untrusted web content",
} as const;

const asked = new Set<number>();
/** A test that holds one item. */
const item = (number: keyof typeof CHECKLIST, where: string, holds: () => unknown) => {
  asked.add(number);
  test(`${number}. ${CHECKLIST[number]} (${where})`, holds as () => void);
};

/** Every source of the program, shell and window, by path. */
function sources(): readonly (readonly [string, string])[] {
  return ["electron", "renderer", "core"].flatMap((room) =>
    readdirSync(path.join(PROJECT_ROOT, room), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && /\.(tsx?|html|mjs|css)$/.test(entry.name))
      .map((entry) => path.join(entry.parentPath, entry.name))
      .map((file) => [path.relative(PROJECT_ROOT, file), readFileSync(file, "utf8")] as const),
  );
}

const saying = (pattern: RegExp) => {
  const all = sources();
  // Nothing would be found in nothing.
  expect(all.length).toBeGreaterThan(300);
  return all.filter(([, text]) => pattern.test(text)).map(([file]) => file);
};

const onlyWindow = () => {
  const [window] = electron.BrowserWindow.opened;
  if (window === undefined) throw new Error("no window was opened");
  return window;
};
const preferences = () => onlyWindow().options.webPreferences ?? {};

/** Whether an event that the page caused is stopped. */
function isStopped(event: string, url: string): boolean {
  electron.app.emit("web-contents-created", {}, electron.webContents);
  const preventDefault = vi.fn();
  electron.webContents.emit(event, { url, preventDefault });
  return preventDefault.mock.calls.length > 0;
}

beforeEach(async () => {
  electron.app.getPath.mockReturnValue(os.tmpdir());
  await start({ windowRoot: "/program/renderer", preload: "/program/electron/preload.cjs" });
});
afterEach(() => electron.forget());

describe("Electron's security checklist", () => {
  item(
    1,
    "app-protocol.ts, network.ts: nothing but the program's own files, over its own secure scheme",
    () => {
      expect(onlyWindow().loadURL.mock.calls).toEqual([["app://reedpath/index.html"]]);
      expect(electron.protocol.registerSchemesAsPrivileged.mock.calls[0]?.[0]).toMatchObject([
        { scheme: "app", privileges: { secure: true } },
      ]);
      const [[filter]] = electron.session.defaultSession.webRequest.onBeforeRequest.mock.calls as [
        [(details: { url: string }, answer: (how: { cancel: boolean }) => void) => void],
      ];
      for (const url of [
        "http://example.org/",
        "https://example.org/",
        "ws://example.org/",
        "ftp://a.org/",
      ]) {
        filter({ url }, ({ cancel }) => expect(cancel, url).toBe(true));
      }
    },
  );

  item(2, "window.ts; there is no remote content", () => {
    expect(preferences().nodeIntegration).toBe(false);
    for (const off of ["nodeIntegrationInWorker", "nodeIntegrationInSubFrames"])
      expect(preferences(), off).not.toHaveProperty(off);
  });

  item(3, "window.ts", () => expect(preferences().contextIsolation).toBe(true));

  item(4, "window.ts, shell.ts: for every page there could be", () => {
    expect(preferences().sandbox).toBe(true);
    expect(electron.order).toContain("enableSandbox");
    expect(electron.app.commandLine.appendSwitch.mock.calls.flat()).not.toContain("no-sandbox");
  });

  item(5, "permissions.ts: question, check and devices; permissions.test.ts has every case", () => {
    for (const guard of [
      "setPermissionRequestHandler",
      "setPermissionCheckHandler",
      "setDevicePermissionHandler",
    ])
      expect(electron.order, guard).toContain(guard);
  });

  item(6, "window.ts leaves it as it is", () => {
    expect(preferences()).not.toHaveProperty("webSecurity");
    expect(saying(/disable-web-security|disablewebsecurity|webSecurity/)).toEqual([]);
  });

  item(7, "response-headers.ts, in every answer and in the page; no word of it allows what is unsafe", () => {
    const directives = CONTENT_SECURITY_POLICY.split("; ").map((one) => one.split(" "));
    expect(directives[0]).toEqual(["default-src", "'none'"]);
    // [F] CSP Level 3: what else a source list can be; here only own files, and pictures made in memory.
    const allowed = directives.flatMap(([, ...values]) => values);
    expect(new Set(allowed)).toEqual(new Set(["'none'", "'self'", "data:"]));
    expect(directives.filter((one) => one.includes("data:")).map(([name]) => name)).toEqual(["img-src"]);
    // [F] CSP Level 3, 6.1 and 6.3: these three do not fall back to default-src and have to be said.
    const names = directives.map(([name]) => name);
    expect(names).toEqual(expect.arrayContaining(["base-uri", "form-action", "frame-ancestors"]));
  });

  item(8, "window.ts leaves it as it is", () => {
    expect(preferences()).not.toHaveProperty("allowRunningInsecureContent");
    expect(saying(/allowRunningInsecureContent|allow-running-insecure-content/)).toEqual([]);
  });

  item(9, "window.ts leaves it as it is", () => {
    expect(preferences()).not.toHaveProperty("experimentalFeatures");
    expect(saying(/experimentalFeatures|enable-experimental/)).toEqual([]);
  });

  item(10, "window.ts leaves it as it is", () => {
    expect(preferences()).not.toHaveProperty("enableBlinkFeatures");
    expect(saying(/enableBlinkFeatures|enable-blink-features/)).toEqual([]);
  });

  item(11, "there is no webview, and the tag is switched off", () => {
    expect(preferences().webviewTag).toBe(false);
    expect(saying(/<webview|allowpopups/)).toEqual([]);
  });

  item(12, "navigation.ts: none is ever attached", () => {
    expect(isStopped("will-attach-webview", "app://reedpath/index.html")).toBe(true);
  });

  item(13, "navigation.ts: to the one page and nowhere else; confinement.test.ts has every case", () => {
    for (const event of ["will-navigate", "will-frame-navigate", "will-redirect"])
      expect(isStopped(event, "https://app.reedpath.example.org/"), event).toBe(true);
    electron.forget();
    expect(isStopped("will-navigate", "app://reedpath/index.html#/tunes")).toBe(false);
  });

  item(14, "navigation.ts: none", () => {
    electron.app.emit("web-contents-created", {}, electron.webContents);
    const [[open]] = electron.webContents.setWindowOpenHandler.mock.calls as [[() => unknown]];
    expect(open()).toEqual({ action: "deny" });
  });

  item(15, "it is never called: nothing of the shell leads out of the program", () => {
    expect(saying(/openExternal\s*\(|openPath\s*\(|import[^;]*\bshell\b[^;]*from "electron"/)).toEqual([]);
  });

  item(16, "package.json: one exact version, which is the one installed", () => {
    const wanted = JSON.parse(readFileSync(path.join(PROJECT_ROOT, "package.json"), "utf8"));
    const installed = readFileSync(path.join(PROJECT_ROOT, "node_modules/electron/package.json"), "utf8");
    expect(wanted.devDependencies.electron).toMatch(/^\d+\.\d+\.\d+$/);
    expect(JSON.parse(installed).version).toBe(wanted.devDependencies.electron);
  });

  item(17, "ipc-checks.ts, by every handler there is before anything else", async () => {
    const channels = [...electron.handlers.keys()];
    expect(channels.length).toBeGreaterThan(10);
    const stranger = { url: "https://example.org/", parent: null };
    const inside = { url: "app://reedpath/index.html", parent: stranger };
    for (const channel of channels)
      for (const senderFrame of [null, stranger, inside]) {
        const answer = async () =>
          (electron.handlers.get(channel) as (...all: unknown[]) => unknown)({
            senderFrame,
            sender: electron.webContents,
          });
        await expect(answer(), channel).rejects.toThrow("did not come from the program's own page");
      }
    expect(saying(/ipcMain\s*\.\s*(on|once)\s*\(/)).toEqual([]);
  });

  item(18, "app-protocol.ts: app://, and a file address is refused like any other", () => {
    expect(saying(/loadFile\s*\(|file:\/\//)).toEqual([]);
    expect(isStopped("will-navigate", "file:///etc/hostname")).toBe(true);
  });

  item(19, "electron-builder.yml; fuses.test.ts and the packed program have each", () => {
    expect(fusesInWords(fusesOfConfig())).toEqual([]);
  });

  item(20, "preload.ts: one function a verb, and nothing of Electron itself", async () => {
    vi.resetModules();
    await import("../../electron/preload.ts");
    const [[name, bridge]] = electron.contextBridge.exposeInMainWorld.mock.calls as [
      [string, Record<string, unknown>],
    ];
    expect(name).toBe("reedpath");
    expect(Object.values(bridge).length).toBeGreaterThan(10);
    expect(new Set(Object.values(bridge).map((verb) => typeof verb))).toEqual(new Set(["function"]));
    // What is handed over by a verb is data: no event of Electron's, whose sender would be a way in.
    const preload = readFileSync(path.join(PROJECT_ROOT, "electron/preload.ts"), "utf8");
    expect(preload.match(/exposeInMainWorld/g)).toHaveLength(1);
    expect(preload).not.toMatch(/exposeInMainWorld\([^)]*(ipcRenderer|webFrame|process)/);
  });

  test("none of its items is left out", () => {
    expect([...asked].sort((one, other) => one - other)).toEqual(Object.keys(CHECKLIST).map(Number));
    // [F] as above: the list is numbered without gaps from 1.
    expect(Object.keys(CHECKLIST).map(Number)).toEqual(Array.from({ length: 20 }, (_, n) => n + 1));
  });
});
