import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { USUAL_RULE } from "../../core/exercise/tune-ladder.ts";
import { planTune, type TunePlan } from "../../core/exercise/tune-plan.ts";
import { tuneSheet } from "../../core/exercise/tune-sheet.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { tab } from "../../core/instrument/tab.ts";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import { FIRST_WEIGHTS } from "../../core/path/weights.ts";
import { readAbc } from "../../core/tune/abc/read-abc.ts";
import { onceThrough } from "../../core/tune/once-through.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { type Paper, sheetHtml } from "../../electron/commands/sheet-html.ts";
import { SHIPPED_FILES, shippedText } from "../support/shipped-tunes.ts";
import { chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserEach } from "./hooks.ts";

const browser = oneBrowserEach();

const TUNES: readonly Tune[] = SHIPPED_FILES.flatMap((file) => {
  const read = readAbc(shippedText(file));
  return read.kind === "tunes" ? read.tunes : [];
});
const HARPS = harpsToTry({ layouts: [STANDARD_LAYOUT] });

const planOf = (tune: Tune): TunePlan =>
  planTune({
    tune,
    harps: HARPS,
    abilities: PLAIN_AND_BENDS,
    weights: FIRST_WEIGHTS,
    tempo: tune.tempo,
    octaves: null,
    pins: [],
    even: false,
    phraseBars: 4,
    phrases: null,
    rule: USUAL_RULE,
  });

/** Tab of each written bar once. */
const tabsOf = (tune: Tune, plan: TunePlan): readonly string[] =>
  onceThrough(tune).from.flatMap((place) => {
    const action = plan.path.actions[place] ?? null;
    return action === null ? [] : [tab(action)];
  });

/** [calc] In points of 1/72 inch: 210 x 297 mm and 8.5 x 11 inches. */
const SIZES: Readonly<Record<Paper, readonly [number, number]>> = { a4: [595, 842], letter: [612, 792] };
/** Between margins of 14 mm, at 96 px an inch. */
const heightPx = (paper: Paper) => ((SIZES[paper][1] / 72) * 25.4 - 28) * (96 / 25.4);

/** Pages of a PDF and their size in whole points: Chromium writes both in the clear. */
function pagesOf(pdf: Buffer): { readonly count: number; readonly size: readonly number[] } {
  const text = pdf.toString("latin1");
  const box = /\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/.exec(text);
  return {
    count: [...text.matchAll(/\/Type\s*\/Page\b(?!s)/g)].length,
    size: [Number(box?.[1]), Number(box?.[2])].map(Math.round),
  };
}

/** Within 2 points, 0.7 mm: some name the paper in inches to two places. */
function expectSize(size: readonly number[], paper: Paper): void {
  for (const side of [0, 1] as const)
    expect(Math.abs((size[side] ?? 0) - SIZES[paper][side])).toBeLessThan(2);
}

/** The texts of tab size, and whatever sticks out of its drawing or the page. */
const onPaper = (page: Page) =>
  page.evaluate(() => {
    const tabs: string[] = [];
    const out: string[] = [];
    let tallest = 0;
    for (const svg of document.querySelectorAll("svg")) {
      const frame = svg.getBoundingClientRect();
      tallest = Math.max(tallest, frame.height);
      if (frame.left < -0.5 || frame.right > document.body.getBoundingClientRect().right + 0.5)
        out.push("a line");
      for (const text of svg.querySelectorAll("text")) {
        const { fontSize, fontWeight } = getComputedStyle(text);
        if (fontSize === "14px" && fontWeight === "700") tabs.push(text.textContent ?? "");
        // The boxes of the music font's signs are many times as high as the signs.
        if (/[\uE000-\uF8FF]/.test(text.textContent ?? "")) continue;
        const { left, right, top, bottom } = text.getBoundingClientRect();
        // A font's box is higher than its letters, by less than a quarter of a line.
        if (
          left < frame.left - 1 ||
          right > frame.right + 1 ||
          top < frame.top - 8 ||
          bottom > frame.bottom + 8
        )
          out.push(text.textContent ?? "");
      }
    }
    return { tabs, out, tallest, words: document.body.textContent ?? "" };
  });

/** Tab in the window's print that runs into the tab after it. */
const overlapping = (page: Page) =>
  page.evaluate(() => {
    const boxes = [...document.querySelectorAll(".print-sheet .abcjs-lyric")].map((one) => ({
      words: one.textContent ?? "",
      box: one.getBoundingClientRect(),
    }));
    if (boxes.length === 0) return ["no tab at all"];
    return boxes.flatMap(({ words, box }, place) => {
      const next = boxes[place + 1];
      const sameLine = next !== undefined && Math.abs(next.box.top - box.top) < 2;
      return sameLine && next.box.left < box.right ? [`${words} and ${next.words}`] : [];
    });
  });

describe.skipIf(chromiumPath === null)(`sheets on paper${whyNoBrowser}`, () => {
  test.each(["a4", "letter"] as const)(
    "every tune that comes along has its title, all its tab and its source on %s, and nothing is cut",
    async (paper) => {
      // [calc] 33 traditional and 8 of the demo's band.
      expect(TUNES).toHaveLength(41);
      // A page of its own: the window's content policy does not hold for it.
      const page = await (await browser.open()).context.newPage();
      const width = Math.floor(((SIZES[paper][0] / 72) * 25.4 - 28) * (96 / 25.4));
      await page.setViewportSize({ width, height: 1000 });
      await page.emulateMedia({ media: "print" });
      const counts: number[] = [];
      for (const tune of TUNES) {
        const plan = planOf(tune);
        await page.setContent(sheetHtml(tune.title, tuneSheet(tune, plan), paper));
        await page.evaluate(() => document.fonts.ready);
        const { tabs, out, tallest, words } = await onPaper(page);
        expect([...tabs].sort(), tune.title).toEqual([...tabsOf(tune, plan)].sort());
        expect(words).toContain(tune.title);
        expect(words).toContain(`${plan.harp.key} harp`);
        for (const { kind, text } of tune.fields) if (kind === "source") expect(words).toContain(text);
        expect(out, tune.title).toEqual([]);
        // A line of music is never parted by the end of a page, as each fits one.
        expect(tallest).toBeLessThan(heightPx(paper));
        const { count, size } = pagesOf(await page.pdf({ preferCSSPageSize: true }));
        expectSize(size, paper);
        counts.push(count);
      }
      // The longest has six strains.
      expect(Math.min(...counts)).toBe(1);
      expect(Math.max(...counts)).toBe(2);
      expect(counts.filter((count) => count === 1).length).toBeGreaterThan(TUNES.length / 2);
    },
  );

  test.each(["Garryowen", "The Wind that Shakes the Barley", "Liverpool Hornpipe"])(
    "the window prints the same sheet, with its repeats, on whole lines: %s",
    async (title) => {
      const { page, complaints } = await browser.open();
      await page.getByRole("button", { name: "Tunes" }).click();
      await page.getByLabel(/Find/).fill(title);
      await page.getByRole("button", { name: title }).first().click();
      await page.locator(".print-sheet svg").nth(2).waitFor({ state: "attached" });
      expect(await page.locator(".print-sheet").isVisible()).toBe(false);
      await page.emulateMedia({ media: "print" });
      await page.setViewportSize({ width: 690, height: 900 });
      const tune = TUNES.find((one) => one.title === title);
      if (tune === undefined) throw new Error("it comes along");
      expect(await page.locator(".tune-sheet").isVisible()).toBe(false);
      const printed = page.locator(".print-sheet");
      const words = (await printed.textContent()) ?? "";
      expect(words).toContain(title);
      expect(words).toMatch(/harp, \d+(st|nd|rd|th) position/);
      expect(words).toContain("Source: ");
      // Each written note once: what is played again stands between repeat signs.
      expect(await printed.locator(".abcjs-lyric").count()).toBe(onceThrough(tune).from.length);
      expect(await overlapping(page)).toEqual([]);
      const heights = await printed
        .locator("svg")
        .evaluateAll((all) => all.map((svg) => svg.getBoundingClientRect().height));
      expect(Math.max(...heights)).toBeLessThan(300);
      for (const [format, paper] of [
        ["A4", "a4"],
        ["Letter", "letter"],
      ] as const) {
        const pdf = await page.pdf({ format });
        const { count, size } = pagesOf(pdf);
        expect(count).toBe(1);
        expectSize(size, paper);
      }
      expect(complaints).toEqual([]);
    },
  );
});
