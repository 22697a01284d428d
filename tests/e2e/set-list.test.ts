import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { PATIENT, toTunes } from "./tune-room.ts";

const { open } = oneBrowserForAll();

/** Presses Tab until a control of this name has the focus. */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let presses = 0; presses < 80; presses++) {
    const focused = await page.evaluate(() => {
      const at = document.activeElement;
      const label = at instanceof HTMLInputElement ? at.labels?.[0]?.textContent : null;
      return label ?? at?.textContent ?? "";
    });
    if (name.test(focused)) return;
    await page.keyboard.press("Tab");
  }
  throw new Error(`Tab never came to ${name}`);
}

async function addTune(page: Page, query: string): Promise<void> {
  await tabTo(page, /^Tune to add/);
  await page.keyboard.type(query);
  await page.keyboard.press("Enter");
}

const titles = async (page: Page) =>
  (await page.locator(".set-tune-line > button").allTextContents()).map((text) =>
    text.replace(/^\d+\. /, ""),
  );

async function toDemo(page: Page): Promise<void> {
  await toTunes(page);
  await page.getByRole("button", { name: "Set lists" }).click();
  await page.getByRole("button", { name: "Show a made-up one" }).click();
  await page.getByText(/with breaks/).waitFor();
  await page.getByRole("progressbar").waitFor({ state: "detached" });
}

describe.skipIf(chromiumPath === null)(`set lists for a dance${whyNoBrowser}`, () => {
  test("by keyboard alone a set is made, ordered, shortened, brought back, and found again after a reload", async () => {
    const { page, complaints } = await open();
    await enterRoom(page, ROOM_KEYS.tunes);
    await page.locator(".tune-rows button.open").first().waitFor();
    await tabTo(page, /^Set lists$/);
    await page.keyboard.press("Enter");
    await page.getByText("No set list yet.", { exact: false }).waitFor();
    expect(await axeViolations(page)).toEqual([]);
    await tabTo(page, /^New set list$/);
    await page.keyboard.press("Enter");
    await page.getByText("Nothing is on it yet.").waitFor();
    await tabTo(page, /^Name of the dance/);
    await page.keyboard.type("Autumn dance");
    await page.getByRole("heading", { name: "Autumn dance" }).waitFor();
    await tabTo(page, /^Add a set$/);
    await page.keyboard.press("Enter");
    await tabTo(page, /^Add a tune/);
    await page.keyboard.press("Enter");
    await addTune(page, "lamp over");
    await addTune(page, "caretaker");
    await addTune(page, "haste to");
    await page.keyboard.press("Escape");
    expect(await titles(page)).toEqual([
      "The Lamp over the Hall Door",
      "The Caretaker's Bunch of Keys",
      "Haste to the Wedding",
    ]);
    // [calc] three jigs of 32 bars, two dotted crotchets to the bar at 116, three times each: 3 * 3 * 64 * 60 / 116 = 297.9 s.
    await page.getByText("4:58 with breaks, 4:58 played", { exact: false }).waitFor(PATIENT);

    await tabTo(page, /^1\. The Lamp/);
    await page.keyboard.press("Alt+ArrowDown");
    await expect
      .poll(() => titles(page))
      .toEqual(["The Caretaker's Bunch of Keys", "The Lamp over the Hall Door", "Haste to the Wedding"]);
    // The tune moved keeps the focus: it goes on.
    await page.keyboard.press("Alt+ArrowDown");
    await expect.poll(async () => (await titles(page)).at(-1)).toBe("The Lamp over the Hall Door");
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("Delete");
    await expect
      .poll(() => titles(page))
      .toEqual(["The Caretaker's Bunch of Keys", "The Lamp over the Hall Door"]);
    await page.getByText("Taken out: Haste to the Wedding.").waitFor();
    await page.getByRole("button", { name: "Undo" }).press("Enter");
    await expect.poll(async () => (await titles(page)).length).toBe(3);

    // How often and how fast: opened with Enter, changed in the fields.
    await tabTo(page, /^3\. The Lamp/);
    await page.keyboard.press("Enter");
    await tabTo(page, /^Played through/);
    await page.keyboard.press("ArrowDown");
    // [calc] two times instead of three: 8 * 64 * 60 / 116 = 264.8 s.
    await page.getByText("4:25 with breaks", { exact: false }).waitFor();
    expect(await axeViolations(page)).toEqual([]);

    await page.reload();
    await enterRoom(page, ROOM_KEYS.tunes);
    await page.locator(".tune-rows button.open").first().waitFor();
    await tabTo(page, /^Set lists$/);
    await page.keyboard.press("Enter");
    await tabTo(page, /^Autumn dance$/);
    await page.keyboard.press("Enter");
    await page.getByText("4:25 with breaks", { exact: false }).waitFor(PATIENT);
    expect(complaints).toEqual([]);
  });

  test("the made-up dance says where another harp is needed, is printed on one page, and saved as text and CSV", async () => {
    const { page, complaints } = await open();
    await toDemo(page);
    await page.getByText("Made up for the demonstration.").waitFor();
    const said = (await page.locator("main > .one-sentence").textContent()) ?? "";
    const changes = await page.locator(".harp-change").count();
    expect(said).toContain(changes === 0 ? "no harp change" : `${changes} harp change`);
    expect(await axeViolations(page)).toEqual([]);

    const download = page.waitForEvent("download");
    await page.getByRole("button", { name: "Save as CSV" }).click();
    const table = readFileSync(await (await download).path(), "utf8");
    // [calc] 14 tunes under a header.
    expect(table.trimEnd().split("\r\n")).toHaveLength(15);
    expect(table.match(/,yes,/g)?.length ?? 0).toBe(changes);
    const other = page.waitForEvent("download");
    await page.getByRole("button", { name: "Save as text" }).click();
    expect(readFileSync(await (await other).path(), "utf8")).toContain("The village band's autumn dance");

    await page.emulateMedia({ media: "print" });
    expect(await page.getByRole("button", { name: "Print it" }).isVisible()).toBe(false);
    expect(await page.locator(".set-list-paper").isVisible()).toBe(true);
    const pdf = await page.pdf({ format: "A4" });
    expect(pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    expect(complaints).toEqual([]);
  });

  test("an order with fewer harp changes is offered, and taken only when asked", async () => {
    const { page } = await open();
    await toDemo(page);
    const offer = page.getByRole("button", { name: "Play it so" }).first();
    await offer.waitFor();
    const before = await titles(page);
    const changes = await page.locator(".harp-change").count();
    await offer.click();
    await expect.poll(() => page.locator(".harp-change").count(), PATIENT).toBeLessThan(changes);
    expect([...(await titles(page))].sort()).toEqual([...before].sort());
  });

  test("a set is practised tune after tune, and leaving leads back to the list", async () => {
    const { page } = await open();
    await toDemo(page);
    await page.getByRole("button", { name: "Practise this set" }).first().click();
    await page.getByRole("heading", { name: "The Lamp over the Hall Door, whole tune" }).waitFor(PATIENT);
    await page.keyboard.press("ArrowRight");
    await page.getByRole("heading", { name: "Haste to the Wedding, whole tune" }).waitFor(PATIENT);
    await page.keyboard.press("ArrowRight");
    await page.getByRole("heading", { name: "The Caretaker's Bunch of Keys, whole tune" }).waitFor(PATIENT);
    await page.keyboard.press("ArrowRight");
    await page.getByText("This is the last one.").waitFor(PATIENT);
    await page.keyboard.press("Escape");
    await page.getByRole("heading", { name: "The village band's autumn dance" }).waitFor();
  });

  const looks = [
    { viewport: { width: 1024, height: 700 }, colorScheme: "light", text: "100" },
    { viewport: { width: 1024, height: 700 }, colorScheme: "dark", text: "200" },
  ] as const;
  test.each(looks)(
    "nothing is cut at $viewport.width by $viewport.height, $colorScheme, text at $text %",
    async ({ text, ...look }) => {
      const { page } = await open(look);
      await toDemo(page);
      await page.evaluate((size) => document.documentElement.setAttribute("data-text", size), text);
      await page.locator(".set-tune-line > button").first().click();
      expect(await axeViolations(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(1024);
      const cut = await page.evaluate(() =>
        [...document.querySelectorAll("main *:not(.only-read-aloud):not(.set-list-paper *)")].flatMap(
          (one) =>
            one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).overflow === "hidden"
              ? [one.textContent]
              : [],
        ),
      );
      expect(cut).toEqual([]);
    },
  );
});
