import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { type Layout, sameReeds } from "../../core/instrument/layout.ts";
import { readLayout } from "../../core/instrument/layout-json.ts";
import { chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { button, chooseByTyping, enterInstrument, rebuild, tabTo } from "./instrument-keys.ts";
import { keptLayouts } from "./kept-layouts.ts";
import { TO_REBUILD } from "./layouts-to-rebuild.ts";

const { open } = oneBrowserForAll();

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
  test.each(TO_REBUILD.map((layout) => [layout.id, layout] as const))(
    "%s is rebuilt from the standard layout, and stays the same saved, reloaded, exported and imported",
    async (id, target) => {
      const { page, complaints } = await open();
      // From the beginning, for the browser takes a moment to hand its file window over.
      page.on("filechooser", () => {});
      await enterInstrument(page);
      await chooseByTyping(page, "Key", "C");
      await rebuild(page, target, `my ${id}`);
      const [saved] = await keptLayouts(page);
      if (saved === undefined) throw new Error("nothing was kept");
      expect(saved.name).toBe(`my ${id}`);
      expect(sameReeds(saved, target)).toBe(true);
      expect(saved.positionKey).toBe(target.positionKey);
      expect(saved.labelKey).toBe(target.labelKey);

      await page.reload();
      await enterRoom(page, ROOM_KEYS.drills);
      await button(page, "Practise this").waitFor();
      expect(await keptLayouts(page)).toEqual([saved]);
      await enterInstrument(page);
      // What was looked at is there again, without choosing it.
      await page.locator(".harp-title", { hasText: `my ${id}` }).waitFor();

      const text = await exported(page, saved);
      const read = readLayout(text);
      expect(read.kind === "layout" ? read.layout : read.reason).toEqual(saved);
      await tabTo(page, button(page, "Delete this layout"));
      await page.keyboard.press("Enter");
      await page.getByText(`Deleted: my ${id}.`).waitFor();
      expect(await keptLayouts(page)).toEqual([]);
      await imported(page, text);
      await page.getByText(`Imported as my ${id}.`).waitFor();
      await expect.poll(() => keptLayouts(page)).toEqual([saved]);
      await page.locator(".harp-title", { hasText: `my ${id}` }).waitFor();
      expect(complaints).toEqual([]);
    },
  );
});
