import type { Session } from "electron";
import { afterEach, describe, expect, test, vi } from "vitest";
import * as electron from "./electron-double.ts";

vi.mock("electron", () => import("./electron-double.ts"));

const { guardPermissions } = await import("../../electron/permissions.ts");

type Check = (contents: null, permission: string, origin: string, details: { mediaType?: string }) => boolean;
type Ask = (
  contents: null,
  permission: string,
  callback: (granted: boolean) => void,
  details: { requestingUrl: string; mediaTypes?: string[] },
) => void;

const OURS = "app://reedpath/index.html";

function guard(platform: NodeJS.Platform = "linux") {
  guardPermissions(electron.session.defaultSession as unknown as Session, platform);
  const [[check]] = electron.session.defaultSession.setPermissionCheckHandler.mock.calls as [[Check]];
  const [[ask]] = electron.session.defaultSession.setPermissionRequestHandler.mock.calls as [[Ask]];
  return {
    check: (permission: string, origin: string, mediaType?: string) =>
      check(null, permission, origin, mediaType === undefined ? {} : { mediaType }),
    ask: (permission: string, requestingUrl: string, mediaTypes?: string[]) =>
      new Promise<boolean>((resolve) => {
        ask(null, permission, resolve, { requestingUrl, ...(mediaTypes && { mediaTypes }) });
      }),
  };
}

afterEach(() => electron.forget());

describe("the permission check, which comes before the question", () => {
  test.each([[undefined], ["unknown"], ["audio"]])("lets our page have media of type %s", (mediaType) => {
    expect(guard().check("media", "app://reedpath/", mediaType)).toBe(true);
  });

  test("refuses the camera", () => {
    expect(guard().check("media", "app://reedpath/", "video")).toBe(false);
  });

  test.each(["https://example.org", "app://other/", "file:///", "null", "", "http://127.0.0.1:47815/"])(
    "refuses the microphone to %s",
    (origin) => {
      expect(guard().check("media", origin, "audio")).toBe(false);
    },
  );

  test.each(["geolocation", "notifications", "midi", "hid", "usb", "clipboard-read", "fullscreen"])(
    "refuses %s to our own page",
    (permission) => {
      expect(guard().check(permission, "app://reedpath/")).toBe(false);
    },
  );
});

describe("the permission question", () => {
  test("the microphone is granted to our page", async () => {
    expect(await guard().ask("media", OURS, ["audio"])).toBe(true);
  });

  test.each([
    ["choose by which loudspeaker sound goes out", "speaker-selection"],
    ["put marks on the clipboard", "clipboard-sanitized-write"],
  ])("our page may %s, no other may", async (_, permission) => {
    expect(guard().check(permission, "app://reedpath/")).toBe(true);
    expect(await guard().ask(permission, OURS)).toBe(true);
    expect(guard().check(permission, "https://example.org")).toBe(false);
    expect(await guard().ask(permission, "https://example.org/")).toBe(false);
  });

  test.each([[["video"]], [["audio", "video"]], [[]], [undefined]])("media %j is refused", async (types) => {
    expect(await guard().ask("media", OURS, types)).toBe(false);
  });

  test.each(["https://example.org/", "app://other/index.html", "about:blank", "data:text/html,x"])(
    "the microphone is refused to %s",
    async (url) => {
      expect(await guard().ask("media", url, ["audio"])).toBe(false);
    },
  );

  test.each(["display-capture", "geolocation", "openExternal", "notifications"])(
    "%s is refused to our own page",
    async (permission) => {
      expect(await guard().ask(permission, OURS, ["audio"])).toBe(false);
    },
  );

  test("devices are refused", () => {
    guard();
    const [[device]] = electron.session.defaultSession.setDevicePermissionHandler.mock.calls as [
      [() => boolean],
    ];
    expect(device()).toBe(false);
  });
});

describe("the microphone on macOS, which gives silence instead of an error", () => {
  test("the system is asked first, and its no is passed on", async () => {
    electron.systemPreferences.askForMediaAccess.mockResolvedValueOnce(false);
    expect(await guard("darwin").ask("media", OURS, ["audio"])).toBe(false);
    expect(electron.systemPreferences.askForMediaAccess).toHaveBeenCalledExactlyOnceWith("microphone");
  });

  test("its yes is passed on", async () => {
    expect(await guard("darwin").ask("media", OURS, ["audio"])).toBe(true);
  });

  test("a system that cannot be asked counts as no", async () => {
    electron.systemPreferences.askForMediaAccess.mockRejectedValueOnce(new Error("no answer"));
    expect(await guard("darwin").ask("media", OURS, ["audio"])).toBe(false);
  });

  test.each(["linux", "win32"] as const)("on %s nothing of the kind is called", async (platform) => {
    expect(await guard(platform).ask("media", OURS, ["audio"])).toBe(true);
    expect(electron.systemPreferences.askForMediaAccess).not.toHaveBeenCalled();
  });
});
