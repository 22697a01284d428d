import { describe, expect, test } from "vitest";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { walkScreens } from "./every-screen.ts";
import { oneBrowserForAll } from "./hooks.ts";

const { open } = oneBrowserForAll();

/** Every size, both themes; each theme at the size most have. */
const looks = [
  { viewport: { width: 1024, height: 700 }, colorScheme: "light" },
  { viewport: { width: 1280, height: 800 }, colorScheme: "light" },
  { viewport: { width: 1280, height: 800 }, colorScheme: "dark" },
  { viewport: { width: 1920, height: 1080 }, colorScheme: "dark" },
] as const;

describe.skipIf(chromiumPath === null)(`every screen${whyNoBrowser}`, () => {
  test.each(looks)(
    "at $viewport.width x $viewport.height, $colorScheme: axe finds nothing and nothing is cut",
    async (look) => {
      const { page, complaints } = await open(look);
      const check = async (screen: string) => {
        expect(await axeViolations(page), screen).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth), screen).toBe(
          look.viewport.width,
        );
      };
      await walkScreens(page, check);
      expect(complaints).toEqual([]);
    },
  );
});
