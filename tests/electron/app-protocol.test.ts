import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import * as electron from "./electron-double.ts";

vi.mock("electron", () => import("./electron-double.ts"));

const { answerAppRequest, serveAppScheme } = await import("../../electron/app-protocol.ts");

let folder = "";
let root = "";

beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), "reedpath-protocol-"));
  root = path.join(folder, "renderer");
  await mkdir(path.join(root, "assets"), { recursive: true });
  await writeFile(path.join(root, "index.html"), "<title>page</title>");
  await writeFile(path.join(root, "assets", "tap.js"), "1;");
  await writeFile(path.join(root, "assets", "two words.svg"), "<svg/>");
  await writeFile(path.join(folder, "secret.txt"), "secret");
});
afterAll(() => rm(folder, { recursive: true }));

// [F] Permissions Policy (W3C): a feature with an empty list is denied to everyone, our own page too.
const PERMISSIONS =
  "microphone=(self), camera=(), display-capture=(), geolocation=(), hid=(), midi=(), payment=(), serial=(), usb=()";

const get = (url: string, method = "GET") => answerAppRequest(root, { url, method });

describe("the program's own scheme", () => {
  test("the handler is registered for app and answers with the page", async () => {
    serveAppScheme(root);
    const [[scheme, handle]] = electron.protocol.handle.mock.calls as [
      [string, (request: Request) => Promise<Response>],
    ];
    expect(scheme).toBe("app");
    const answer = await handle(new Request("app://reedpath/index.html"));
    expect(await answer.text()).toBe("<title>page</title>");
  });

  test.each([
    ["app://reedpath/", "text/html; charset=utf-8"],
    ["app://reedpath/index.html?x=1#/tunes", "text/html; charset=utf-8"],
    ["app://reedpath/assets/tap.js", "text/javascript; charset=utf-8"],
    ["app://reedpath/assets/two%20words.svg", "image/svg+xml; charset=utf-8"],
  ])("%s is served as %s", async (url, type) => {
    const answer = await get(url);
    expect(answer.status).toBe(200);
    expect(answer.headers.get("Content-Type")).toBe(type);
  });

  test.each([
    "app://reedpath/../secret.txt",
    "app://reedpath/..%2fsecret.txt",
    "app://reedpath/..%2Fsecret.txt",
    "app://reedpath/%2e%2e/secret.txt",
    "app://reedpath/%2e%2e%2fsecret.txt",
    "app://reedpath/assets/..%2f..%2fsecret.txt",
    "app://reedpath/..%5csecret.txt",
    "app://reedpath/..\\secret.txt",
    "app://reedpath/index.html%00.txt",
    "app://reedpath/%zz",
    "app://reedpath/C:%2fWindows%2fwin.ini",
    "app://reedpath//etc/hostname",
    "app://reedpath/assets",
    "app://reedpath/assets/",
    "app://reedpath/missing.js",
    "app://other/index.html",
    "app://reedpath:80/index.html",
    "file:///etc/hostname",
    "https://reedpath/index.html",
    "nonsense",
  ])("%s is not found, and says nothing of the machine", async (url) => {
    const answer = await get(url);
    expect(answer.status).toBe(404);
    expect(await answer.text()).toBe("Not found");
  });

  test.each(["POST", "PUT", "DELETE", "OPTIONS"])("%s is refused", async (method) => {
    expect((await get("app://reedpath/index.html", method)).status).toBe(405);
  });

  test.each(["app://reedpath/index.html", "app://reedpath/missing.js"])(
    "%s carries the content policy, as a literal, and the other guards",
    async (url) => {
      const { headers } = await get(url);
      // [F] Content Security Policy Level 3, W3C: directive names; the choice is ours: own files only, nothing inline.
      expect(headers.get("Content-Security-Policy")).toBe(
        "default-src 'none'; script-src 'self'; worker-src 'self'; style-src 'self'; img-src 'self' data:; " +
          "font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
      );
      expect(headers.get("X-Content-Type-Options")).toBe("nosniff");
      expect(headers.get("Referrer-Policy")).toBe("no-referrer");
      expect(headers.get("Cross-Origin-Opener-Policy")).toBe("same-origin");
      expect(headers.get("Permissions-Policy")).toBe(PERMISSIONS);
    },
  );
});
