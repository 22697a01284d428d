import type { Session } from "electron";
import { afterEach, describe, expect, test, vi } from "vitest";
import * as electron from "./electron-double.ts";

vi.mock("electron", () => import("./electron-double.ts"));

const { guardNavigation } = await import("../../electron/navigation.ts");
const { guardRequests } = await import("../../electron/network.ts");

afterEach(() => electron.forget());

const OUTSIDE = [
  "https://example.org/",
  "http://127.0.0.1:47815/",
  "file:///etc/hostname",
  "app://other/index.html",
  "app://reedpath.example.org/",
  "app://user@reedpath/index.html",
  "javascript:alert(1)",
  "not an address",
];

describe("navigation", () => {
  function leaves(event: string, url: string): boolean {
    guardNavigation();
    electron.app.emit("web-contents-created", {}, electron.webContents);
    const preventDefault = vi.fn();
    electron.webContents.emit(event, { url, preventDefault });
    return preventDefault.mock.calls.length === 0;
  }

  test.each(OUTSIDE)("to %s is refused, in the page and in a frame", (url) => {
    expect(leaves("will-navigate", url)).toBe(false);
    electron.forget();
    expect(leaves("will-frame-navigate", url)).toBe(false);
  });

  test("to a file of ours that is not the page is refused", () => {
    expect(leaves("will-navigate", "app://reedpath/assets/tune.abc")).toBe(false);
  });

  test("reloading the page is allowed, whatever screen it shows", () => {
    expect(leaves("will-navigate", "app://reedpath/index.html#/tunes")).toBe(true);
  });

  test.each(["will-redirect", "will-attach-webview"])("%s is refused even to our own page", (event) => {
    expect(leaves(event, "app://reedpath/index.html")).toBe(false);
  });

  test("no further window opens", () => {
    leaves("will-navigate", "https://example.org/");
    const [[handler]] = electron.webContents.setWindowOpenHandler.mock.calls as [[() => unknown]];
    expect(handler()).toEqual({ action: "deny" });
  });

  test("peer connections get no route", () => {
    leaves("will-navigate", "https://example.org/");
    expect(electron.webContents.setWebRTCIPHandlingPolicy).toHaveBeenCalledWith("disable_non_proxied_udp");
  });
});

describe("requests", () => {
  function cancelled(url: string): boolean | undefined {
    guardRequests(electron.session.defaultSession as unknown as Session);
    const [[listener]] = electron.session.defaultSession.webRequest.onBeforeRequest.mock.calls as [
      [(details: { url: string }, callback: (answer: { cancel?: boolean }) => void) => void],
    ];
    let cancel: boolean | undefined;
    listener({ url }, (answer) => {
      cancel = answer.cancel;
    });
    return cancel;
  }

  test.each([
    ...OUTSIDE,
    "ws://example.org/",
    "wss://example.org/",
    "ftp://example.org/",
    "blob:https://example.org/1",
    "chrome-extension://abc/x.js",
  ])("to %s is cancelled", (url) => {
    expect(cancelled(url)).toBe(true);
  });

  test.each([
    "app://reedpath/index.html",
    "blob:app://reedpath/0b5e",
    "data:image/png;base64,AA==",
    "devtools://devtools/bundled/x.js",
  ])("to %s passes", (url) => {
    expect(cancelled(url)).toBe(false);
  });
});
