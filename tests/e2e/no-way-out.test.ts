import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { chromiumPath, launchBrowser, serveApp, whyNoBrowser } from "./browser.ts";
import { type Strangers, strangersIn } from "./net-log.ts";

/** Ways a page can send something away, each to a host of its own name. [F] RFC 2606: example.org is nobody's. */
const WAYS = [
  "fetch",
  "beacon",
  "image",
  "style",
  "script",
  "frame",
  "form",
  "events",
  "socket",
  "transport",
];
const BEFORE_ASKED = ["prefetch", "preload", "speculation"];
const hostsOf = (ways: readonly string[]) => ways.map((way) => `${way}.example.org`).sort();

/** Tries every way, and waits until each has had its time. */
const tryAll = (page: Page) =>
  page.evaluate(async () => {
    const element = <Name extends keyof HTMLElementTagNameMap>(
      name: Name,
      fields: Partial<HTMLElementTagNameMap[Name]>,
    ) => document.body.appendChild(Object.assign(document.createElement(name), fields));
    const calm = (act: () => unknown) => {
      // What is forbidden may throw at once; whether it left is read in the log.
      Promise.resolve()
        .then(act)
        .catch(() => {});
    };
    const at = (way: string) => `https://${way}.example.org/`;
    calm(() => fetch(at("fetch")));
    calm(() => navigator.sendBeacon(at("beacon"), "x"));
    calm(() => element("img", { src: at("image") }));
    calm(() => element("link", { rel: "stylesheet", href: at("style") }));
    calm(() => element("link", { rel: "prefetch", href: at("prefetch") }));
    calm(() => element("link", { rel: "preload", as: "script", href: at("preload") }));
    calm(() => element("script", { src: at("script") }));
    calm(() => element("iframe", { src: at("frame") }));
    calm(() => {
      element("iframe", { name: "form-target" });
      element("form", { action: at("form"), target: "form-target" }).submit();
    });
    calm(() => new EventSource(at("events")));
    calm(() => new WebSocket("wss://socket.example.org/"));
    calm(() => new WebTransport(at("transport")).ready);
    calm(() => {
      const rules = { prefetch: [{ urls: [at("speculation")], eagerness: "immediate" }] };
      element("script", { type: "speculationrules", textContent: JSON.stringify(rules) });
    });
    await new Promise((resolve) => setTimeout(resolve, 1500));
  });

/** The hosts that a page at an address reached for while it tried. */
async function reached(url: string): Promise<Strangers> {
  const folder = mkdtempSync(path.join(tmpdir(), "reedpath-net-"));
  const netLogPath = path.join(folder, "log.json");
  const browser = await launchBrowser({ netLogPath });
  const page = await browser.newPage();
  await page.goto(url);
  await tryAll(page);
  await browser.close();
  const strangers = strangersIn(netLogPath, new URL(url).origin);
  rmSync(folder, { recursive: true });
  return strangers;
}

describe.skipIf(chromiumPath === null)(`ways out of the window${whyNoBrowser}`, () => {
  test("the log of the network shows each of them on a page that allows everything", async () => {
    const server = createServer((_request, response) => {
      response.setHeader("Content-Type", "text/html").end("<body>");
    }).listen(0, "127.0.0.1");
    await new Promise((resolve) => server.once("listening", resolve));
    const { port } = server.address() as AddressInfo;
    const { asked, lookedUp } = await reached(`http://127.0.0.1:${port}/`);
    server.close();
    expect([...asked, ...lookedUp].sort()).toEqual(hostsOf([...WAYS, ...BEFORE_ASKED]));
    expect(asked.length).toBeGreaterThan(9);
  });

  test("in the window each is closed, even to a script that runs in it", async () => {
    const server = await serveApp();
    const { asked, lookedUp } = await reached(server.url);
    await server.close();
    expect(asked).toEqual([]);
    // Chromium looks the host of a frame up before it asks the policy, and then makes no request.
    expect(lookedUp.filter((host) => !hostsOf(["form", "frame"]).includes(host))).toEqual([]);
  });
});

test.skipIf(chromiumPath === null)(
  "the page may open the microphone, and nothing else that hears, sees or finds",
  async () => {
    const server = await serveApp();
    const browser = await launchBrowser();
    const page = await browser.newPage();
    await page.goto(server.url);
    const opened = await page.evaluate(async () => {
      const ask = (wanted: MediaStreamConstraints) =>
        navigator.mediaDevices.getUserMedia(wanted).then(
          (stream) =>
            stream
              .getTracks()
              .map((track) => track.kind)
              .join(),
          (error: Error) => error.name,
        );
      const where = new Promise<string>((resolve) =>
        navigator.geolocation.getCurrentPosition(
          () => resolve("found"),
          (error) => resolve(error.message),
        ),
      );
      const midi = navigator.requestMIDIAccess().then(
        () => "opened",
        (error: Error) => error.name,
      );
      return [await ask({ audio: true }), await ask({ video: true }), await where, await midi];
    });
    await browser.close();
    await server.close();
    // The browser allows its fake camera to any page that asks, unless a policy forbids it.
    expect(opened).toEqual([
      "audio",
      "NotAllowedError",
      expect.stringMatching(/permissions policy/),
      "SecurityError",
    ]);
  },
);

// [F] CSP Level 3 has no directive that browsers follow for these, so nothing of ours may name them.
test("no part of the window opens a connection that the content policy does not govern", () => {
  const folder = path.join(import.meta.dirname, "..", "..", "out", "renderer");
  const files = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((name) =>
    /\.(js|html)$/.test(name),
  );
  expect(files.length).toBeGreaterThan(10);
  for (const name of files) {
    const text = readFileSync(path.join(folder, name), "utf8");
    expect(text, name).not.toMatch(/RTCPeerConnection|rel=["']?(dns-prefetch|preconnect)|window\.open\(/);
  }
});
