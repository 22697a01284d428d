import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { file, PATIENT, toTunes } from "./tune-room.ts";

const browser = oneBrowserForAll();

/** Letters of notes the made-up tunes begin with. */
const LETTERS = "GABcdef";

describe.skipIf(chromiumPath === null)(`a great many tunes${whyNoBrowser}`, () => {
  test("twenty thousand tunes come in with progress while the window stays fluid, and are found by their first notes", async () => {
    const many = Array.from(
      { length: 20_000 },
      (_, n) =>
        `X:${n + 1}\nT:Band page ${n + 1}\nR:polka\nM:2/4\nL:1/8\nK:G\n${LETTERS[n % 7]}${LETTERS[(n >> 3) % 7]} ${LETTERS[(n >> 6) % 7]}${LETTERS[(n >> 9) % 7]}|GA Bc|d2 G2|]\n`,
    ).join("\n");
    const { page, complaints } = await browser.open();
    await toTunes(page);
    const at = file("many.abc", many);
    expect(readFileSync(at).byteLength).toBeGreaterThan(1_000_000);
    await page.getByLabel("File of tunes").setInputFiles(at);
    await page.getByText(/\d+ of 20000 tunes/).waitFor({ timeout: 60_000 });
    // The window goes on answering: a tune is found, opened and left while others come in.
    await page.getByLabel(/Find/).fill("lamp over");
    await page.getByRole("button", { name: "The Lamp over the Hall Door" }).click();
    await page.locator(".tune-sheet .staff svg").first().waitFor();
    await toTunes(page);
    await page.getByText("20000 tunes brought in.").waitFor({ timeout: 240_000 });
    await page.getByLabel(/Find/).fill("page 19876");
    await page.getByRole("button", { name: "Band page 19876", exact: true }).waitFor();
    expect(await page.locator(".tune-rows tr[data-row]").count()).toBe(1);
    await page.getByLabel(/Find/).fill("");
    await expect.poll(() => page.getByText("20041 tunes", { exact: true }).count(), PATIENT).toBe(1); // [calc] with the 41 that come along
    expect(await page.locator(".tune-rows tr[data-row]").count()).toBeLessThan(60);

    // A second file, stopped on the way, leaves nothing behind.
    await page
      .getByLabel("File of tunes")
      .setInputFiles(file("more.abc", many.replaceAll("Band page", "Other page")));
    await page.getByText(/\d+ of 20000 tunes/).waitFor({ timeout: 60_000 });
    await page.getByRole("button", { name: "Stop" }).click();
    await page.getByText("Stopped: nothing was brought in.").waitFor({ timeout: 60_000 });
    await page.getByLabel(/Find/).fill("other page");
    await page.getByText("No tune is like that.", { exact: false }).waitFor();
    expect(complaints).toEqual([]);
  }, 420_000);
});
