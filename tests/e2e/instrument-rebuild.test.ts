import { readFileSync } from "node:fs";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Breath, type Layout, sameReeds } from "../../core/instrument/layout.ts";
import { readLayout } from "../../core/instrument/layout-json.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import type { LoopbackServer } from "../../electron/loopback-server.ts";
import {
  chromiumPath,
  enterRoom,
  launchBrowser,
  openPage,
  ROOM_KEYS,
  serveApp,
  type WatchedPage,
  whyNoBrowser,
} from "./browser.ts";
import {
  button,
  chooseByTyping,
  enterInstrument,
  pitchShown,
  rebuild,
  reed,
  tabTo,
} from "./instrument-keys.ts";
import { keptLayouts } from "./kept-layouts.ts";
import { TO_REBUILD } from "./layouts-to-rebuild.ts";

/** Exports the layout that is looked at by keyboard. */
async function exported(page: Page, saved: Layout): Promise<string> {
  await tabTo(page, button(page, "Export to a file"));
  const [download] = await Promise.all([page.waitForEvent("download"), page.keyboard.press("Enter")]);
  expect(download.suggestedFilename()).toBe(`${saved.id}.json`);
  return readFileSync(await download.path(), "utf8");
}

/** Imports a layout file by keyboard; which file is the system's own window, where keys are the system's business. */
async function imported(page: Page, text: string): Promise<void> {
  await tabTo(page, button(page, "Import from a file"));
  const [chooser] = await Promise.all([page.waitForEvent("filechooser"), page.keyboard.press("Enter")]);
  await chooser.setFiles({ name: "mine.json", mimeType: "application/json", buffer: Buffer.from(text) });
}

describe.skipIf(chromiumPath === null)(`every layout of the fact sheet by keyboard${whyNoBrowser}`, () => {
  // One player makes them all, one after another, and goes on where the last one was left.
  let server: LoopbackServer;
  let browser: Browser;
  let watched: WatchedPage;
  const made: Layout[] = [];
  beforeAll(async () => {
    if (chromiumPath === null) return;
    server = await serveApp();
    browser = await launchBrowser();
    watched = await openPage(browser, server.url);
    // From the beginning, for the browser takes a moment to hand its file window over.
    watched.page.on("filechooser", () => {});
    await enterInstrument(watched.page);
    await chooseByTyping(watched.page, "Key", "C");
  });
  afterAll(async () => {
    await browser?.close();
    await server?.close();
  });

  test.each(TO_REBUILD.map((layout) => [layout.id, layout] as const))(
    "%s is rebuilt from the standard layout, and stays the same saved, exported and imported",
    async (id, target) => {
      const { page, complaints } = watched;
      await chooseByTyping(page, "Layout", "standard");
      expect(await page.getByLabel("Layout", { exact: true }).inputValue()).toBe(STANDARD_LAYOUT.id);
      await rebuild(page, target, `my ${id}`);
      const saved = await keptAs(page, `my ${id}`);
      if (saved === undefined) throw new Error("it was not kept");
      expect(sameReeds(saved, target)).toBe(true);
      expect(saved.positionKey).toBe(target.positionKey);
      expect(saved.labelKey).toBe(target.labelKey);

      const text = await exported(page, saved);
      const read = readLayout(text);
      expect(read.kind === "layout" ? read.layout : read.reason).toEqual(saved);
      await tabTo(page, button(page, "Delete this layout"));
      await page.keyboard.press("Enter");
      await page.getByText(`Deleted: my ${id}.`).waitFor();
      expect(await keptAs(page, `my ${id}`)).toBeUndefined();
      await imported(page, text);
      await page.getByText(`Imported as my ${id}.`).waitFor();
      await expect.poll(() => keptAs(page, `my ${id}`)).toEqual(saved);
      await page.locator(".harp-title", { hasText: `my ${id}` }).waitFor();
      made.push(saved);
      expect(complaints).toEqual([]);
    },
  );

  test("all are there after a reload, the last of them looked at, and each is what it was when chosen", async () => {
    const { page, complaints } = watched;
    await page.reload();
    await enterRoom(page, ROOM_KEYS.drills);
    await button(page, "Practise this").waitFor();
    await enterInstrument(page);
    // What was looked at is there again, without choosing it.
    await page.locator(".harp-title", { hasText: `my ${TO_REBUILD.at(-1)?.id}` }).waitFor();
    const byName = (one: Layout, other: Layout) => (one.name < other.name ? -1 : 1);
    expect(made).toHaveLength(TO_REBUILD.length);
    expect([...(await keptLayouts(page))].sort(byName)).toEqual(made.toSorted(byName));
    for (const { id, name, holes } of made) {
      await page.getByLabel("Layout", { exact: true }).selectOption(id);
      await page.locator(".harp-title", { hasText: name }).waitFor();
      for (const breath of ["blow", "draw"] as const) {
        const shown = await Promise.all(holes.map((_, place) => soundsAt(page, breath, place + 1)));
        expect(shown, `${name}, ${breath}`).toEqual(
          holes.map((hole) => (hole[breath] === null ? null : 60 + hole[breath])),
        );
      }
    }
    expect(complaints).toEqual([]);
  });
});

/** MIDI number of a reed that is looked at; null where there is none. */
const soundsAt = async (page: Page, breath: Breath, hole: number) =>
  (await reed(page, breath, hole).count()) === 0 ? null : pitchShown(page, breath, hole);

const keptAs = async (page: Page, name: string) => (await keptLayouts(page)).find((one) => one.name === name);
