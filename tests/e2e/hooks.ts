import type { Browser } from "playwright-core";
import { afterAll, afterEach, beforeAll } from "vitest";
import type { LoopbackServer } from "../../electron/loopback-server.ts";
import {
  type BrowserOptions,
  chromiumPath,
  launchBrowser,
  openPage,
  type PageOptions,
  serveApp,
  type WatchedPage,
} from "./browser.ts";

/**
 * One server and one browser for all tests of a file. Each opened page has a profile of its own, as a new player has, and
 * is closed after its test.
 */
export function oneBrowserForAll(): { readonly open: (options?: PageOptions) => Promise<WatchedPage> } {
  let server: LoopbackServer;
  let browser: Browser;
  const opened: WatchedPage[] = [];
  beforeAll(async () => {
    if (chromiumPath === null) return;
    server = await serveApp();
    browser = await launchBrowser();
  });
  afterEach(async () => {
    for (const { context } of opened.splice(0)) await context.close();
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });
  return {
    open: async (options) => {
      const page = await openPage(browser, server.url, options);
      opened.push(page);
      return page;
    },
  };
}

/** One server for all tests of a file, a browser for each: what its microphone hears is settled when it starts. */
export function oneBrowserEach(): { readonly open: (options?: BrowserOptions) => Promise<WatchedPage> } {
  let server: LoopbackServer;
  let browser: Browser | null = null;
  beforeAll(async () => {
    if (chromiumPath !== null) server = await serveApp();
  });
  afterEach(async () => {
    await browser?.close();
    browser = null;
  });
  afterAll(async () => server?.close());
  return {
    open: async (options) => {
      browser = await launchBrowser(options);
      return openPage(browser, server.url);
    },
  };
}
