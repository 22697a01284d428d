import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { thirtyDays } from "../support/thirty-days.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { keepEntries } from "./kept.ts";

const { open } = oneBrowserForAll();
const PATIENT = { timeout: 30_000 };

const focused = (page: Page) =>
  page.evaluate(() => ({
    row: document.activeElement?.closest<HTMLElement>("[data-row]")?.dataset.row ?? null,
    control: document.activeElement?.closest<HTMLElement>("[data-control]")?.dataset.control ?? null,
  }));
const found = (page: Page, words: string) => page.getByText(words, { exact: true }).waitFor(PATIENT);

async function toAttempts(page: Page): Promise<void> {
  await enterRoom(page, ROOM_KEYS.progress);
  await page.getByRole("button", { name: "Attempts", exact: true }).click();
  await page.locator("button.open").first().waitFor(PATIENT);
}

describe.skipIf(chromiumPath === null)(`the list of attempts${whyNoBrowser}`, () => {
  test("is walked, starred, searched and thinned out by keyboard alone", async () => {
    const { page, complaints } = await open();
    await keepEntries(page, thirtyDays(5));
    await toAttempts(page);
    await found(page, "52 attempts"); // [calc] two on each of 26 days
    expect(await focused(page)).toEqual({ row: "0", control: "open" });
    await page.keyboard.press("ArrowDown");
    expect(await focused(page)).toEqual({ row: "1", control: "open" });
    await page.keyboard.press("PageDown");
    expect(Number((await focused(page)).row)).toBeGreaterThan(2);
    for (let pages = 0; pages < 20; pages++) await page.keyboard.press("PageDown");
    expect(await focused(page)).toEqual({ row: "51", control: "open" }); // the last

    // A star, and only what has one.
    await page.keyboard.press("Tab");
    await page.keyboard.press("Space");
    await page.getByRole("button", { name: /^Star: /, pressed: true }).waitFor(PATIENT);
    expect(await focused(page)).toEqual({ row: "51", control: "star" });
    await page.keyboard.press("Escape");
    await page.getByLabel("with a star").press("Space");
    await found(page, "1 attempt");
    await page.getByRole("button", { name: "Show all" }).press("Enter");
    await found(page, "52 attempts");

    // Two are ticked and go together; both come back.
    await page
      .getByRole("checkbox", { name: /^Choose / })
      .first()
      .focus();
    await page.keyboard.press("Space");
    await page.keyboard.press("ArrowDown");
    expect(await focused(page)).toEqual({ row: "1", control: "choose" });
    await page.keyboard.press("Space");
    await page.getByRole("button", { name: "Delete 2 attempts" }).press("Enter");
    await found(page, "50 attempts");
    await page.getByText("Deleted: 2 attempts, for good once you leave Progress.").waitFor(PATIENT);
    expect((await focused(page)).row).toBe("0");
    await page.getByRole("button", { name: "Undo" }).press("Enter");
    await found(page, "52 attempts");
    expect((await focused(page)).row).not.toBeNull();

    await page.getByLabel("To", { exact: true }).fill("2026-09-01");
    await found(page, "2 attempts"); // [calc] the first day
    await page.getByLabel("Harp").selectOption("G harp");
    await page.getByLabel("With", { exact: true }).selectOption("bend");
    await found(page, "2 attempts");
    await page.getByLabel("Drill or tune").fill("no such drill");
    await page.getByText("No attempt is like that. Choose less.").waitFor(PATIENT);
    await page.getByRole("button", { name: "Show all" }).click();
    await page.locator("button.open").first().press("Enter");
    await page
      .getByText(/notes right|of \d+ right/)
      .first()
      .waitFor(PATIENT);
    expect(complaints).toEqual([]);
  });

  test("asked faster than it can answer, and left in the middle, it complains of nothing", async () => {
    const { page, complaints } = await open();
    await keepEntries(page, thirtyDays(5));
    for (let round = 0; round < 6; round++) {
      await toAttempts(page);
      await page.getByLabel("Drill or tune").waitFor();
      await page.getByLabel("Drill or tune").evaluate((field) => {
        const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value")?.set;
        for (const text of ["s", "sc", "sca", "scal", ""]) {
          set?.call(field, text);
          field.dispatchEvent(new Event("input", { bubbles: true }));
        }
      });
      await enterRoom(page, ROOM_KEYS.settings);
    }
    expect(complaints).toEqual([]);
  });

  test("cuts nothing in the smallest window, at any size of text", async () => {
    const { page, complaints } = await open({ viewport: { width: 1024, height: 700 } });
    await keepEntries(page, thirtyDays(5));
    for (const percent of [100, 150, 200]) {
      await enterRoom(page, ROOM_KEYS.settings);
      await page.getByLabel(`${percent} %`).check();
      await toAttempts(page);
      expect(await axeViolations(page), `${percent} %`).toEqual([]);
      const over = await page.evaluate(() => {
        const rows = document.querySelector(".history-rows");
        return [document.documentElement, rows].map((box) =>
          box === null ? Number.NaN : box.scrollWidth - box.clientWidth,
        );
      });
      expect(over, `${percent} %`).toEqual([0, 0]);
    }
    expect(complaints).toEqual([]);
  });
});
