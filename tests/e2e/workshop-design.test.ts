import { describe, expect, test } from "vitest";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";

const { open } = oneBrowserForAll();
const VIEWPORT = { width: 1024, height: 700 };

describe.skipIf(chromiumPath === null)(`designing a layout${whyNoBrowser}`, () => {
  test("scales give layouts that are saved, practised and planned; what cannot be tells what gives way", async () => {
    const { page, complaints } = await open({ viewport: VIEWPORT });
    await enterRoom(page, ROOM_KEYS.workshop);
    await page.getByRole("button", { name: "Look for layouts" }).click();
    // [P] seven changed reeds give a stock C harp the whole G major scale from D4 to B6.
    await page.getByText("7 reeds are changed: the fewest there can be.").waitFor();
    expect(await axeViolations(page)).toEqual([]);
    await page.getByLabel("A reed moves at most").selectOption("1");
    await page.getByRole("button", { name: "Look for layouts" }).click();
    await page.getByText("No layout keeps all of this.").waitFor();
    await page.getByText("What must stay, and triads it must have").click();
    expect(await axeViolations(page)).toEqual([]);
    await page.getByRole("button", { name: "Do that" }).first().click();
    await page.getByText("7 reeds are changed: the fewest there can be.").waitFor();
    await page.getByRole("button", { name: "Save as a layout of mine" }).click();
    await page.getByRole("button", { name: "Saved among my layouts" }).waitFor();
    await page.getByRole("button", { name: "Plan the retuning" }).click();
    await page
      .getByRole("heading", { name: "Which reeds do I work on, how far, and in which order?" })
      .waitFor();
    await page.getByRole("button", { name: "Design a layout" }).click();
    await page.getByRole("button", { name: "Look for layouts" }).click();
    await page.getByRole("button", { name: "Practise it" }).click();
    await page.locator(".staff svg").first().waitFor();
    // The layout stands among the player's own, and its name on the sheet.
    await page
      .getByText(/standard, 7 reeds changed/)
      .first()
      .waitFor();
    expect(complaints).toEqual([]);
  });

  test("tunes give a line in a worker, which can be stopped", async () => {
    const { page, complaints } = await open({ viewport: VIEWPORT });
    await enterRoom(page, ROOM_KEYS.workshop);
    await page.getByLabel(/^count: the \d+ on the list$/).check();
    await page.getByRole("button", { name: "Take scale 1 out" }).click();
    await page.getByRole("button", { name: "Look for layouts" }).click();
    await page.getByRole("button", { name: "Stop" }).click();
    await page.getByText("Stopped.").waitFor();
    await page.getByLabel("Reeds changed at most").selectOption("2");
    await page.getByText("How many times each dance counts").click();
    await page.getByRole("button", { name: "Look for layouts" }).click();
    await page.getByRole("progressbar").waitFor();
    await page.getByRole("heading", { name: "Layouts found" }).waitFor({ timeout: 120_000 });
    expect(await axeViolations(page)).toEqual([]);
    const second = page.locator(".line-table button.open").nth(1);
    await second.focus();
    await page.keyboard.press("Enter");
    expect(await second.getAttribute("aria-pressed")).toBe("true");
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("Enter");
    expect(await second.getAttribute("aria-pressed")).toBe("false");
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
      VIEWPORT.width,
    );
    expect(complaints).toEqual([]);
  });
});
