import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { writeLayout } from "../../core/instrument/layout-json.ts";
import { STANDARD_LAYOUT, stockLayout } from "../../core/instrument/stock-layouts.ts";
import {
  axeViolations,
  chromiumPath,
  enterRoom,
  type PageOptions,
  ROOM_KEYS,
  type WatchedPage,
  whyNoBrowser,
} from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { button, enterInstrument, pitchShown, reed, tabTo } from "./instrument-keys.ts";
import { keptLayouts, spoilKeptInstrument } from "./kept-layouts.ts";

const browser = oneBrowserForAll();

async function open(options: PageOptions = {}): Promise<WatchedPage> {
  const now = await browser.open(options);
  await now.page.getByRole("button", { name: "Practise this" }).waitFor();
  return now;
}

/** What is wider than its place: the page sideways, or a note wider than its reed. */
async function cutOff(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const wide = (element: Element) => element.scrollWidth > element.clientWidth + 1;
    const reeds = [...document.querySelectorAll(".harp-grid .reed")].filter(wide);
    const places = [document.documentElement, ...document.querySelectorAll(".shown")].filter(wide);
    return [...places, ...reeds].map((element) => element.getAttribute("aria-label") ?? element.tagName);
  });
}

describe.skipIf(chromiumPath === null)(`the instrument in a real browser${whyNoBrowser}`, () => {
  test("a file that is no layout is refused in one line that names hole and reed; what is unusual is listed", async () => {
    const { page } = await open();
    await enterInstrument(page);
    const file = (text: string) => ({
      name: "mine.json",
      mimeType: "application/json",
      buffer: Buffer.from(text),
    });
    const broken = writeLayout({ ...STANDARD_LAYOUT, id: "x", name: "x" }).replace(
      '"draw": 2',
      '"draw": "D"',
    );
    await page.getByLabel("Layout file").setInputFiles(file(broken));
    await page
      .getByRole("alert")
      .getByText(/^mine\.json: hole 1, draw: must be a whole number of semitones/)
      .waitFor();
    expect(await keptLayouts(page)).toEqual([]);
    const country = stockLayout("country");
    if (country === null) throw new Error("no country layout");
    await page.getByLabel("Layout file").setInputFiles(file(writeLayout({ ...country, id: "y", name: "y" })));
    // [F layout table] country: 5 draw raised, 9 draw not.
    await page.getByText("octaves differ: 5 draw is #4 of the key, but 9 draw is 4 of the key").waitFor();
  });

  test("a change is taken back and brought again by key, and leaving without saving can be undone", async () => {
    const { page } = await open();
    await enterInstrument(page);
    await button(page, "Change this layout").press("Enter");
    await tabTo(page, reed(page, "blow", 1));
    await page.keyboard.press("Tab");
    await page.keyboard.press("ArrowUp");
    // [calc] G harp, 1 draw is A3 = 57; a semitone up A#3 = 58.
    expect(await pitchShown(page, "draw", 1)).toBe(58);
    await page.keyboard.press("Control+z");
    expect(await pitchShown(page, "draw", 1)).toBe(57);
    await page.keyboard.press("Control+Shift+z");
    expect(await pitchShown(page, "draw", 1)).toBe(58);
    await button(page, "Leave without saving").press("Enter");
    await page.getByText("Changes to standard, changed not saved.").waitFor();
    expect(await pitchShown(page, "draw", 1)).toBe(57);
    await button(page, "Undo").press("Enter");
    expect(await pitchShown(page, "draw", 1)).toBe(58);
  });

  test("what was looked at and a layout half changed are there again after a reload, with the way back", async () => {
    const { page, complaints } = await open();
    await enterInstrument(page);
    await page.getByLabel("Key", { exact: true }).selectOption("D");
    await page.getByLabel("Layout", { exact: true }).selectOption("country");
    await page.getByLabel("Position", { exact: true }).selectOption("3");
    await button(page, "Change this layout").press("Enter");
    // Half way through a new name, then two reeds.
    await page.keyboard.type("my");
    await reed(page, "draw", 9).press("ArrowUp");
    await reed(page, "blow", 3).press("a");
    const half = async () => [
      await page.getByLabel("Name").inputValue(),
      await pitchShown(page, "draw", 9),
      await pitchShown(page, "blow", 3),
    ];
    // [calc] on D4 = 62: 9 draw is 62 + 29 and a semitone, 3 blow 62 + 7 = A4 already: A is where it was.
    expect(await half()).toEqual(["my", 92, 69]);
    await reed(page, "blow", 3).press("b");
    expect(await half()).toEqual(["my", 92, 71]);
    await page.reload();
    await enterInstrument(page);
    expect(await half()).toEqual(["my", 92, 71]);
    expect(await page.getByLabel("Key", { exact: true }).inputValue()).toBe("D");
    expect(await page.getByLabel("Position", { exact: true }).inputValue()).toBe("3");
    await page.keyboard.press("Control+z");
    expect(await half()).toEqual(["my", 92, 69]);
    await page.keyboard.press("Control+z");
    expect(await half()).toEqual(["my", 91, 69]);
    await page.keyboard.press("Control+z");
    expect(await half()).toEqual(["country (5 draw raised), changed", 91, 69]);
    await page.reload();
    await enterInstrument(page);
    for (let n = 0; n < 3; n++) await page.keyboard.press("Control+Shift+z");
    expect(await half()).toEqual(["my", 92, 71]);
    await button(page, "Save to my layouts").press("Enter");
    await expect.poll(() => keptLayouts(page)).toHaveLength(1);
    await page.reload();
    await enterInstrument(page);
    await page.locator(".harp-title", { hasText: "my" }).waitFor();
    expect(complaints).toEqual([]);
  });

  test.each([
    ["draft", { now: { name: "x", holes: "none" } }],
    ["draft", 7],
    ["layout", { id: "standard", name: "standard", holes: [] }],
    ["temperament", { kind: "scale", name: "x", steps: "none" }],
  ])("a kept %s that was spoiled (%j) keeps nobody from the instrument", async (field, spoiled) => {
    const { page, complaints } = await open();
    await enterInstrument(page);
    await page.getByLabel("Key", { exact: true }).selectOption("D");
    await button(page, "Change this layout").press("Enter");
    await reed(page, "draw", 1).press("ArrowUp");
    await spoilKeptInstrument(page, { [field]: spoiled });
    await page.reload();
    await enterInstrument(page);
    expect(await page.getByLabel("Key", { exact: true }).inputValue()).toBe("D");
    expect(await button(page, "Save to my layouts").count()).toBe(field === "draft" ? 0 : 1);
    await reed(page, "draw", 1).press("Enter");
    expect(complaints).toEqual([]);
  });

  test("looking at a harp of one's own in the midst of a change does not lose the change", async () => {
    const { page } = await open();
    await enterRoom(page, ROOM_KEYS.instrument);
    await button(page, "My harps").press("Enter");
    await button(page, "Add a harp").press("Enter");
    await button(page, "Keep this harp").press("Enter");
    await enterInstrument(page);
    await button(page, "Change this layout").press("Enter");
    await reed(page, "draw", 1).press("ArrowUp");
    await button(page, "My harps").press("Enter");
    await page.locator("button.open").press("Enter");
    await page.getByText("Changes to standard, changed not saved.").waitFor();
    await button(page, "Undo").press("Enter");
    // [calc] G harp, 1 draw is A3 = 57; a semitone up 58.
    expect(await pitchShown(page, "draw", 1)).toBe(58);
  });

  test("reeds and chords sound by key under the production policy", async () => {
    const { page, complaints } = await open();
    await enterInstrument(page);
    expect(await reed(page, "blow", 1).evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.press("Enter");
    await page.keyboard.press("ArrowDown");
    expect(await reed(page, "draw", 1).evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.press("Space");
    await tabTo(page, page.getByRole("button", { name: /^Hear G on 1-2-3 blow/ }));
    await page.keyboard.press("Enter");
    // Until the chord has sounded and its voices are cleared away.
    await page.waitForTimeout(3500);
    expect(complaints).toEqual([]);
  });

  test("a harp the player owns is added, changed, deleted and brought back by keyboard, and shown", async () => {
    const { page, complaints } = await open();
    await enterRoom(page, ROOM_KEYS.instrument);
    await tabTo(page, button(page, "My harps"));
    await page.keyboard.press("Enter");
    await page.getByText(/No harp yet/).waitFor();
    await tabTo(page, button(page, "Add a harp"));
    await page.keyboard.press("Enter");
    await tabTo(page, page.getByLabel("Key", { exact: true }));
    await page.keyboard.type("D");
    await page.keyboard.press("ArrowDown");
    await tabTo(page, page.getByLabel("Note", { exact: true }));
    await page.keyboard.type("for the autumn dances");
    await page.keyboard.press("Enter");
    await page.getByText("for the autumn dances").waitFor();
    await tabTo(page, page.getByRole("button", { name: /^Delete/ }));
    await page.keyboard.press("Enter");
    await page.getByText(/^Deleted: /).waitFor();
    await page.getByText(/No harp yet/).waitFor();
    await tabTo(page, button(page, "Undo"));
    await page.keyboard.press("Enter");
    await page.getByText("for the autumn dances").waitFor();
    await page.reload();
    await enterRoom(page, ROOM_KEYS.instrument);
    await button(page, "My harps").press("Enter");
    const harp = page.locator("button.open");
    const name = (await harp.textContent()) ?? "";
    await harp.press("Enter");
    await page.locator(".harp-title", { hasText: `${name} ·` }).waitFor();
    expect(complaints).toEqual([]);
  });

  test.each(["standard", "solo-12", "extended-16"])("%s prints on one page, A4 and Letter", async (id) => {
    const { page } = await open({ colorScheme: "dark" });
    await enterInstrument(page);
    await page.getByLabel("Layout", { exact: true }).selectOption(id);
    for (const format of ["A4", "Letter"]) {
      const pdf = await page.pdf({ format, landscape: true });
      const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g) ?? [];
      expect(pages).toHaveLength(1);
    }
  });

  test.each([
    { viewport: { width: 1024, height: 700 }, colorScheme: "light", wider: { width: 1920, height: 1080 } },
    { viewport: { width: 1280, height: 800 }, colorScheme: "dark", wider: { width: 1600, height: 900 } },
  ] as const)("nothing is cut and axe finds nothing: $viewport.width wide, $colorScheme", async (options) => {
    const { viewport, wider } = options;
    const { page, complaints } = await open(options);
    await enterRoom(page, ROOM_KEYS.instrument);
    await button(page, "My harps").press("Enter");
    expect(await axeViolations(page)).toEqual([]);
    await button(page, "Add a harp").press("Enter");
    expect(await axeViolations(page)).toEqual([]);
    await button(page, "Keep this harp").press("Enter");
    await page.locator("button.open").waitFor();
    expect(await axeViolations(page)).toEqual([]);
    expect(await cutOff(page)).toEqual([]);
    await enterInstrument(page);
    for (const id of ["standard", "solo-12", "extended-16"]) {
      await page.getByLabel("Layout", { exact: true }).selectOption(id);
      expect(await cutOff(page)).toEqual([]);
      await page.setViewportSize(wider);
      expect(await cutOff(page)).toEqual([]);
      await page.setViewportSize(viewport);
    }
    expect(await axeViolations(page)).toEqual([]);
    await button(page, "Change this layout").press("Enter");
    expect(await cutOff(page)).toEqual([]);
    expect(await axeViolations(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });
});
