import { describe, expect, test } from "vitest";
import { exerciseOf } from "../support/drills.ts";
import { axeViolations, chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { microphoneTake } from "./takes.ts";

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
      await page.locator(".staff svg").first().waitFor();
      await check("drills");
      await page.getByRole("button", { name: "Practise this" }).click();
      await page.locator(".staff svg").first().waitFor();
      await check("practice, before");
      await page
        .getByLabel("Recording to mark")
        .setInputFiles(microphoneTake(exerciseOf(), 71, true).wavPath);
      await page.getByText("Kept in the history.").waitFor();
      await page.getByText("Every note").click();
      await check("practice, after");
      await page.getByRole("button", { name: "Progress" }).click();
      await page.getByRole("button", { name: exerciseOf().title, exact: true }).waitFor();
      await check("progress");
      await page.getByRole("button", { name: "Today" }).click();
      await page.getByRole("button", { name: /^Go on/ }).waitFor();
      await check("today");
      await page.keyboard.press("?");
      await page.getByRole("dialog").waitFor();
      await check("help");
      await page.keyboard.press("Escape");
      await page.getByRole("button", { name: "Tunes" }).click();
      await page.locator(".tune-rows button.open").first().waitFor();
      await page.getByText(/Which harps play these/).click();
      await check("tunes");
      await page.getByRole("button", { name: "Write or paste one" }).click();
      await page.locator(".faults").waitFor();
      await check("writing a tune");
      await page.getByRole("button", { name: "Tunes" }).click();
      await page.getByLabel(/Find/).fill("chairs against");
      await page.getByRole("button", { name: "Chairs Against the Wall" }).click();
      await page.locator(".tune-sheet .staff svg").first().waitFor();
      for (const fold of await page.locator(".tune details").all())
        if ((await fold.getAttribute("open")) === null) await fold.locator("summary").click();
      await check("a tune, every choice open");
      await page.getByRole("button", { name: "Instrument" }).click();
      await page.getByRole("button", { name: "My harps" }).click();
      await check("my harps");
      await page.getByRole("button", { name: "Layouts" }).click();
      await check("instrument");
      await page.getByRole("button", { name: "Drills" }).click();
      await page.getByLabel("bends and overblows").check();
      await page.getByLabel("Mode").selectOption("degrees");
      await page.getByLabel("bends, overblows").check();
      for (const fold of await page.locator(".drills details").all())
        if ((await fold.getAttribute("open")) === null) await fold.locator("summary").click();
      await page.locator(".staff svg").first().waitFor();
      await check("drills, every choice open");
      expect(complaints).toEqual([]);
    },
  );
});
