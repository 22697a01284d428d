import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { walkScreens } from "./every-screen.ts";
import { oneBrowserForAll } from "./hooks.ts";

const { open } = oneBrowserForAll();

/** The smallest window. */
const SMALLEST = { width: 1024, height: 700 };
const WIDER = [1280, 1920] as const;

/** More than thirty screens, each looked through by axe; a busy machine takes its time. */
const A_WALK_MS = 600_000;

const widthOf = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth);

describe.skipIf(chromiumPath === null)(`every screen${whyNoBrowser}`, () => {
  test(
    "axe finds nothing in the smallest window, by day and by night, and nothing is cut there or in wider ones",
    async () => {
      const { page, complaints } = await open({ viewport: SMALLEST, colorScheme: "light" });
      await walkScreens(page, async (screen) => {
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
    },
    A_WALK_MS,
  );
});
