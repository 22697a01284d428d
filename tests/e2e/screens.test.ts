import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { LoopbackServer } from "../../electron/loopback-server.ts";
import { axeViolations, chromiumPath, launchBrowser, openPage, serveApp, whyNoBrowser } from "./browser.ts";
import { walkScreens } from "./every-screen.ts";
import { strangersIn } from "./net-log.ts";
import { microphonesOf, watchMicrophones } from "./pretend-sound.ts";

/** The smallest window. */
const SMALLEST = { width: 1024, height: 700 };
const WIDER = [1280, 1920] as const;

let server: LoopbackServer;
let browser: Browser;
const folder = mkdtempSync(path.join(tmpdir(), "reedpath-net-"));
const netLogPath = path.join(folder, "log.json");
beforeAll(async () => {
  if (chromiumPath === null) return;
  server = await serveApp();
  browser = await launchBrowser({ netLogPath });
});
afterAll(async () => {
  await browser?.close();
  await server?.close();
  rmSync(folder, { recursive: true });
});

/** More than thirty screens, each looked through by axe; a busy machine takes its time. */
const A_WALK_MS = 600_000;

const widthOf = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth);

describe.skipIf(chromiumPath === null)(`every screen${whyNoBrowser}`, () => {
  test("would be told of by axe where a picture has no words and letters are grey on grey", async () => {
    const { page } = await openPage(browser, "about:blank", { roomKey: null });
    const letters = '<p style="color: #999; background: #888">grey</p>';
    await page.setContent(
      `<html lang="en"><title>a page</title><main><h1>a page</h1><img src="data:,">${letters}`,
    );
    // axe-core 4.11: image-alt (success criterion 1.1.1 of WCAG 2.2) and color-contrast (1.4.3)
    const found = ["color-contrast: p", "image-alt: img"];
    expect([...(await axeViolations(page))].sort()).toEqual(found);
    expect(await axeViolations(page, ["color-contrast"])).toEqual(found.slice(0, 1));
  });

  test(
    "axe finds nothing in the smallest window, by day and by night, nothing is cut there or in wider ones, nothing is asked of anyone else",
    async () => {
      const { page, complaints } = await openPage(browser, server.url, {
        viewport: SMALLEST,
        colorScheme: "light",
      });
      await watchMicrophones(page);
      await walkScreens(page, async (screen) => {
        const { live, said } = await microphonesOf(page);
        expect(said, `${screen} says whether a microphone is open`).toBe(live > 0);
        expect(await axeViolations(page), screen).toEqual([]);
        expect(await widthOf(page), screen).toBe(SMALLEST.width);
        // The other theme has other colours, and nothing else.
        await page.emulateMedia({ colorScheme: "dark", reducedMotion: "reduce" });
        expect(await axeViolations(page, ["color-contrast"]), `${screen}, dark`).toEqual([]);
        await page.emulateMedia({ colorScheme: "light", reducedMotion: "reduce" });
        for (const width of WIDER) {
          await page.setViewportSize({ ...SMALLEST, width });
          expect(await widthOf(page), screen).toBe(width);
        }
        await page.setViewportSize(SMALLEST);
      });
      expect(complaints).toEqual([]);
      // Pages, workers and worklets, sockets, beacons, prefetching and look-ups: the browser's own log of its network.
      await browser.close();
      expect(strangersIn(netLogPath, new URL(server.url).origin)).toEqual({ asked: [], lookedUp: [] });
    },
    A_WALK_MS,
  );
});
