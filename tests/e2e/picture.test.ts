import { mkdirSync, mkdtempSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { exerciseOf } from "../support/drills.ts";
import { chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { microphoneTake } from "./takes.ts";

/** `npm run picture` puts it into the README; a plain run only makes sure that it can be taken. */
const folder =
  process.env.REEDPATH_PICTURE === "keep"
    ? path.join(import.meta.dirname, "..", "..", "assets", "screens")
    : mkdtempSync(path.join(tmpdir(), "reedpath-picture-"));

const { open } = oneBrowserForAll();

describe.skipIf(chromiumPath === null)(`the picture of the practice sheet${whyNoBrowser}`, () => {
  test("shows a marked take, whole, in a window of 1280 by 800", async () => {
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
});
