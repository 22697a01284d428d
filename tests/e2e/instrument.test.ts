import { readFileSync } from "node:fs";
import AxeBuilder from "@axe-core/playwright";
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { sameReeds } from "../../core/instrument/layout.ts";
import { readLayout, writeLayout } from "../../core/instrument/layout-json.ts";
import { STANDARD_LAYOUT, stockLayout } from "../../core/instrument/stock-layouts.ts";
import type { LoopbackServer } from "../../electron/loopback-server.ts";
import {
  chromiumPath,
  launchBrowser,
  openPage,
  type PageOptions,
  serveApp,
  type WatchedPage,
  whyNoBrowser,
} from "./browser.ts";
import { button, enterInstrument, rebuild, reed, soundsOf, tabTo } from "./instrument-keys.ts";
import { keptLayouts } from "./kept-layouts.ts";

let server: LoopbackServer;
let browser: Browser | null = null;

beforeAll(async () => {
  if (chromiumPath !== null) server = await serveApp();
});
afterAll(async () => server?.close());
afterEach(async () => {
  await browser?.close();
  browser = null;
});

async function open(options: PageOptions = {}): Promise<WatchedPage> {
  browser = await launchBrowser();
  const opened = await openPage(browser, server.url, options);
  await opened.page.getByRole("button", { name: "Practise this" }).waitFor();
  return opened;
}

async function axeViolations(page: Page): Promise<string[]> {
  const result = await new AxeBuilder({ page }).analyze();
  return result.violations.map(
    (one) => `${one.id}: ${one.nodes.map((node) => node.target.join(" ")).join("; ")}`,
  );
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

const REBUILT = [
  "country",
  "raised-third-blow-with-raised-fourths",
  "solo-12",
  "circular-from-the-fifth",
] as const;

describe.skipIf(chromiumPath === null)(`the instrument in a real browser${whyNoBrowser}`, () => {
  test.each(REBUILT)("%s is rebuilt from the standard layout by keyboard, and stays the same", async (id) => {
    const target = stockLayout(id);
    if (target === null) throw new Error(`no layout ${id}`);
    const { page, complaints } = await open();
    await enterInstrument(page);
    await rebuild(page, target, `my ${id}`);
    const [saved] = await keptLayouts(page);
    if (saved === undefined) throw new Error("nothing was kept");
    expect(saved.name).toBe(`my ${id}`);
    expect(sameReeds(saved, target)).toBe(true);
    expect(saved.positionKey).toBe(target.positionKey);
    expect(saved.labelKey).toBe(target.labelKey);

    await page.reload();
    await button(page, "Practise this").waitFor();
    expect(await keptLayouts(page)).toEqual([saved]);
    await enterInstrument(page);
    await tabTo(page, page.getByLabel("Layout", { exact: true }));
    await page.keyboard.type(`my own: my ${id}`.slice(0, 8));
    await page.locator(".harp-title", { hasText: `my ${id}` }).waitFor();

    await tabTo(page, button(page, "Export to a file"));
    const [download] = await Promise.all([page.waitForEvent("download"), page.keyboard.press("Enter")]);
    expect(download.suggestedFilename()).toBe(`${saved.id}.json`);
    const text = readFileSync(await download.path(), "utf8");
    const read = readLayout(text);
    expect(read.kind === "layout" ? read.layout : read.reason).toEqual(saved);

    await tabTo(page, button(page, "Delete this layout"));
    await page.keyboard.press("Enter");
    await page.getByText(`Deleted: my ${id}.`).waitFor();
    expect(await keptLayouts(page)).toEqual([]);
    await page.getByLabel("Layout file").setInputFiles({
      name: "mine.json",
      mimeType: "application/json",
      buffer: Buffer.from(text),
    });
    await page.getByText(`Imported as my ${id}.`).waitFor();
    await expect.poll(() => keptLayouts(page)).toEqual([saved]);
    await page.locator(".harp-title", { hasText: `my ${id}` }).waitFor();
    expect(complaints).toEqual([]);
  });

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
    // [calc] G harp, 1 draw is A3; a semitone up A#3.
    expect(await soundsOf(page, "draw", 1)).toBe(3);
    await page.keyboard.press("Control+z");
    expect(await soundsOf(page, "draw", 1)).toBe(2);
    await page.keyboard.press("Control+Shift+z");
    expect(await soundsOf(page, "draw", 1)).toBe(3);
    await button(page, "Leave without saving").press("Enter");
    await page.getByText("Changes to standard, changed not saved.").waitFor();
    expect(await soundsOf(page, "draw", 1)).toBe(2);
    await button(page, "Undo").press("Enter");
    expect(await soundsOf(page, "draw", 1)).toBe(3);
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

  const SIZES = [
    { width: 1024, height: 700 },
    { width: 1280, height: 800 },
    { width: 1920, height: 1080 },
  ] as const;
  test.each(
    SIZES.flatMap((viewport) =>
      (["light", "dark"] as const).map((colorScheme) => ({ viewport, colorScheme })),
    ),
  )("nothing is cut and axe finds nothing: $viewport.width wide, $colorScheme", async (options) => {
    const { page, complaints } = await open(options);
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
    }
    expect(await axeViolations(page)).toEqual([]);
    await button(page, "Change this layout").press("Enter");
    expect(await cutOff(page)).toEqual([]);
    expect(await axeViolations(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });
});
