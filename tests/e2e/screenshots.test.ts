import { mkdirSync, mkdtempSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { exerciseOf } from "../support/drills.ts";
import { chromiumPath, whyNoBrowser } from "./browser.ts";
import { walkScreens } from "./every-screen.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { microphoneTake } from "./takes.ts";

const ROOT = path.join(import.meta.dirname, "..", "..");
/** `npm run screenshots` keeps them: all to look at, three for the README. A plain run makes sure that they can be taken. */
const keeps = process.env.REEDPATH_SCREENSHOTS === "keep";
const folder = keeps
  ? path.join(ROOT, "assets", "screens")
  : mkdtempSync(path.join(tmpdir(), "reedpath-screens-"));

const { open } = oneBrowserForAll();

describe.skipIf(chromiumPath === null)(`pictures of the screens${whyNoBrowser}`, () => {
  test("the practice sheet shows a marked take, whole, in a window of 1280 by 800", async () => {
    const take = microphoneTake(exerciseOf(), 5, true);
    const { page } = await open();
    await page.getByRole("button", { name: "Practise this" }).press("Enter");
    await page.getByLabel("Recording to mark").setInputFiles(take.wavPath);
    await page.getByText("Kept in the history.").waitFor();
    await page.locator(".staff svg").first().waitFor();
    const line = await page.locator(".state-line").boundingBox();
    expect(Number(line?.y) + Number(line?.height)).toBeLessThanOrEqual(800);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(1280);
    mkdirSync(folder, { recursive: true });
    const file = path.join(folder, "practice.png");
    await page.screenshot({ path: file });
    expect(statSync(file).size).toBeLessThan(150_000);
  });

  const looks = [
    { width: 1280, height: 800 },
    { width: 1920, height: 1080 },
  ].flatMap((viewport) => (["light", "dark"] as const).map((colorScheme) => ({ viewport, colorScheme })));
  test.each(keeps ? looks : [])("every screen, $viewport.width wide, $colorScheme", async (look) => {
    const { page } = await open(look);
    const at = path.join(ROOT, "out", "screenshots", `${look.viewport.width}-${look.colorScheme}`);
    mkdirSync(at, { recursive: true });
    let count = 0;
    await walkScreens(page, async (screen) => {
      const number = String(++count).padStart(2, "0");
      await page.screenshot({ path: path.join(at, `${number}-${screen}.png`), fullPage: true });
      if (look.viewport.width === 1280 && look.colorScheme === "light" && FOR_README.includes(screen))
        await page.screenshot({ path: path.join(folder, `${screen}.png`) });
    });
    expect(count).toBeGreaterThan(10);
  });
});

/** Beside the practice sheet. */
const FOR_README = ["tune", "instrument"];
