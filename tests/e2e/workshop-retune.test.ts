import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { type Harp, harpInKey } from "../../core/instrument/harp.ts";
import { stockLayout } from "../../core/instrument/stock-layouts.ts";
import { benchSheet } from "../../core/workshop/retune/bench-sheet.ts";
import { retuningPlan, USUAL_RULES } from "../../core/workshop/retune/retuning-plan.ts";
import { benchSheetHtml } from "../../electron/commands/bench-sheet-html.ts";
import type { Paper } from "../../electron/commands/sheet-html.ts";
import { chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";

const { open } = oneBrowserForAll();

/** [calc] In points of 1/72 inch: 210 x 297 mm and 8.5 x 11 inches. */
const SIZES: Readonly<Record<Paper, readonly [number, number]>> = { a4: [595, 842], letter: [612, 792] };
const FORMATS = { a4: "A4", letter: "Letter" } as const;
const PAPERS = ["a4", "letter"] as const;
const MARGIN_POINTS = (12 / 25.4) * 72;

/** Pages of a PDF and their size in whole points: Chromium writes both in the clear. */
function pagesOf(pdf: Buffer): { readonly count: number; readonly size: readonly number[] } {
  const text = pdf.toString("latin1");
  const box = /\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/.exec(text);
  return {
    count: [...text.matchAll(/\/Type\s*\/Page\b(?!s)/g)].length,
    size: [Number(box?.[1]), Number(box?.[2])].map(Math.round),
  };
}

/** What sticks out of the paper's width, and whether a table's head comes again on its next page. */
const onPaper = (page: Page, within: string) =>
  page.evaluate((selector) => {
    const sheet = document.querySelector(selector);
    if (sheet === null) return { out: ["no sheet"], rows: 0, words: "", heads: [] };
    const { left, right } = sheet.getBoundingClientRect();
    const cells = [...sheet.querySelectorAll("td, th, p, li")];
    const out = cells.filter((cell) => {
      const box = cell.getBoundingClientRect();
      return box.left < left - 1 || box.right > right + 1 || cell.scrollWidth > cell.clientWidth + 1;
    });
    return {
      out: out.map((cell) => cell.textContent ?? ""),
      rows: sheet.querySelectorAll("td.reed").length,
      words: sheet.textContent ?? "",
      heads: [...sheet.querySelectorAll("thead")].map((head) => getComputedStyle(head).display),
    };
  }, within);

const CAUTIONS = [/eye protection/, /no leaded solder/, /sharp tools/, /qualified repairer/, /Local rules/];

function expectSheet(found: Awaited<ReturnType<typeof onPaper>>, reeds: number): void {
  expect(found.out).toEqual([]);
  expect(found.rows).toBe(reeds);
  for (const words of CAUTIONS) expect(found.words).toMatch(words);
  expect(new Set(found.heads)).toEqual(new Set(["table-header-group"]));
}

function harp(layout: string, key: string): Harp {
  const found = stockLayout(layout);
  const made = found === null ? null : harpInKey(found, key);
  if (made === null) throw new Error(`there is no ${key} harp of ${layout}`);
  return made;
}

/** Puts a standard G harp among the player's own and opens the plan, all by keys. */
async function openPlan(page: Page): Promise<void> {
  await enterRoom(page, ROOM_KEYS.instrument);
  await page.getByRole("button", { name: "My harps" }).press("Enter");
  await page.getByRole("button", { name: "Add a harp" }).press("Enter");
  await page.getByLabel("Note").fill("the band's");
  await page.keyboard.press("Enter");
  await page.getByRole("button", { name: "G harp", exact: true }).waitFor();
  await enterRoom(page, ROOM_KEYS.workshop);
  await page.getByRole("button", { name: "Retuning plan" }).press("Enter");
  await page.getByLabel("Of my harps").selectOption({ label: "G harp (the band's)" });
}

describe.skipIf(chromiumPath === null)(`the retuning plan${whyNoBrowser}`, () => {
  test.each(PAPERS)(
    "its sheet from the command is whole on %s, whatever the harp and the passes",
    async (paper) => {
      const page = await (await open({ roomKey: null })).context.newPage();
      const cases = [
        {
          from: harp("standard", "C"),
          to: harp("raised-third-blow-with-raised-fourths", "C"),
          passes: 3,
          reeds: 20,
        },
        { from: harp("standard", "G"), to: harp("natural-minor-first-position", "A"), passes: 4, reeds: 20 },
        { from: harp("standard", "G"), to: harp("circular-from-the-key", "G"), passes: 6, reeds: 20 },
        { from: harp("extended-16", "G"), to: harp("extended-16", "A"), passes: 3, reeds: 32 },
        { from: harp("standard", "G"), to: harp("standard", "G"), passes: 3, reeds: 20 },
      ];
      await page.emulateMedia({ media: "print" });
      for (const { from, to, passes, reeds } of cases) {
        const made = retuningPlan(from, to, { ...USUAL_RULES, passes });
        if (made.kind !== "plan") throw new Error(made.reason);
        const isTurned = made.plan.passes.length > 3;
        const [width, height] = isTurned ? [SIZES[paper][1], SIZES[paper][0]] : SIZES[paper];
        await page.setViewportSize({
          width: Math.floor((width - 2 * MARGIN_POINTS) * (96 / 72)),
          height: 1000,
        });
        await page.setContent(benchSheetHtml(benchSheet(made.plan), paper));
        expectSheet(await onPaper(page, "body"), reeds);
        const { count, size } = pagesOf(await page.pdf({ preferCSSPageSize: true }));
        expect(Math.abs((size[0] ?? 0) - width)).toBeLessThan(2);
        expect(Math.abs((size[1] ?? 0) - height)).toBeLessThan(2);
        // [calc] All rows at a pencil's height take one to three pages, and the pairs one more.
        expect(count).toBeLessThanOrEqual(4);
      }
    },
  );

  test("is made for a harp of one's own and printed whole", async () => {
    const { page, complaints } = await open();
    await openPlan(page);
    await page.getByLabel("Layout").selectOption("raised-third-blow-with-raised-fourths");
    // Fact sheet, section 1 [F 1]: 3 blow up a whole tone, 5 and 9 draw a semitone; [calc] 400 cents.
    await page.getByRole("heading", { name: /^3 of 20 reeds: 400 cents in all, 200 at most/ }).waitFor();
    const order = await page.locator(".plan-table tbody th").allTextContents();
    expect(order).toEqual(["5 draw", "9 draw", "3 blow"]);
    await page.getByText("In the last pass: 3 blow, 5 draw, 9 draw.").waitFor();
    for (const passes of ["3", "4"]) {
      await page.getByText("More: how far, how near").click();
      await page.getByRole("group", { name: "Passes" }).getByLabel(passes).check();
      await page.getByText("More: how far, how near").click();
      await page.emulateMedia({ media: "print" });
      for (const paper of PAPERS) {
        // Chromium's own margins are 0.4 inches.
        await page.setViewportSize({ width: Math.floor((SIZES[paper][0] - 57.6) * (96 / 72)), height: 900 });
        expectSheet(await onPaper(page, ".bench-sheet"), 20);
        expect(await page.getByRole("navigation").first().isVisible()).toBe(false);
        const { count } = pagesOf(await page.pdf({ format: FORMATS[paper] }));
        expect(count).toBe(2);
      }
      await page.emulateMedia({ media: "screen" });
      await page.setViewportSize({ width: 1280, height: 800 });
    }
    expect(complaints).toEqual([]);
  });

  test("the work is written down pass by pass, is there again after a reload, and makes the harp another", async () => {
    const { page, complaints } = await open();
    await openPlan(page);
    await page.getByRole("button", { name: "Begin this work" }).press("Enter");
    const field = (name: string) => page.getByLabel(`${name}, cents`, { exact: true });
    await field("3 blow, read before").fill("-12");
    await page.keyboard.press("Enter");
    await page.keyboard.type("3,0");
    await page.keyboard.press("Enter");
    // [calc] 212 for 3 blow, 3 for the reed after it, which stays as it is.
    await page.getByText("1 of 20 reeds: 215 cents in all, 212 at most").first().waitFor();
    await field("3 blow, read in pass 1").fill("flat");
    await page.keyboard.press("Tab");
    expect(await field("3 blow, read in pass 1").getAttribute("aria-invalid")).toBe("true");
    await field("3 blow, read in pass 1").fill("-31");
    await page.keyboard.press("Enter");
    await page.getByRole("cell", { name: "11 flat" }).waitFor(); // [calc] its aim is 20 short
    await page.getByRole("button", { name: "Pass 1 is done" }).press("Enter");
    await page.getByText(/^Pass 2 of 3: the harp rests until /).waitFor();
    await page.reload();
    await enterRoom(page, ROOM_KEYS.workshop);
    await page.getByRole("button", { name: "Retuning plan" }).press("Enter");
    await page.getByRole("button", { name: "G harp to G harp, raised 3-blow" }).press("Enter");
    await page.getByText(/^Pass 2 of 3: the harp rests until /).waitFor();
    await page.getByRole("button", { name: "Take pass 1 back" }).press("Enter");
    expect(await field("3 blow, read in pass 1").inputValue()).toBe("-31");
    for (const pass of [1, 2])
      await page.getByRole("button", { name: `Pass ${pass} is done` }).press("Enter");
    await field("3 blow, read in pass 3").fill("1.5");
    await page.getByRole("button", { name: "Pass 3 is done" }).press("Enter");
    await page.getByRole("button", { name: "The work is done: this harp is the wanted one" }).press("Enter");
    await page.getByText("Done: 1").waitFor();
    expect(await page.getByLabel("Of my harps").locator("option:checked").textContent()).toBe(
      "G harp, raised 3-blow (the band's)",
    );
    await page.getByText("The harp as it was read last.").waitFor();
    await page.getByText("Done: 1").click();
    await page.getByRole("button", { name: "Not done after all" }).press("Enter");
    await page.getByText("All passes are done.").waitFor();
    await page.getByRole("button", { name: "Take pass 3 back" }).press("Enter");
    expect(await field("3 blow, read in pass 3").inputValue()).toBe("1.5");
    await page.getByRole("button", { name: "Back to the plans" }).press("Enter");
    expect(await page.getByLabel("Of my harps").locator("option:checked").textContent()).toBe(
      "G harp (the band's)",
    );
    expect(complaints).toEqual([]);
  });
});
