import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { walkScreens } from "./every-screen.ts";
import { oneBrowserForAll } from "./hooks.ts";

const { open } = oneBrowserForAll();

/** The smallest window in one theme, the usual one in the other: colours do not depend on the size. */
const looks = [
  { viewport: { width: 1024, height: 700 }, colorScheme: "light", wider: 1920 },
  { viewport: { width: 1280, height: 800 }, colorScheme: "dark", wider: 1600 },
] as const;

/** More than thirty screens, each looked through by axe; a busy machine takes its time. */
const A_WALK_MS = 600_000;

const widthOf = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth);

describe.skipIf(chromiumPath === null)(`every screen${whyNoBrowser}`, () => {
  test.each(looks)(
    "at $viewport.width x $viewport.height, $colorScheme: axe finds nothing, and nothing is cut there or $wider wide",
    async (look) => {
      const { page, complaints } = await open(look);
      const check = async (screen: string) => {
        expect(await axeViolations(page), screen).toEqual([]);
        expect(await widthOf(page), screen).toBe(look.viewport.width);
        await page.setViewportSize({ ...look.viewport, width: look.wider });
        expect(await widthOf(page), screen).toBe(look.wider);
        await page.setViewportSize(look.viewport);
      };
      await walkScreens(page, check);
      expect(complaints).toEqual([]);
    },
    A_WALK_MS,
  );
});
