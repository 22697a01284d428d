import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";

const { open } = oneBrowserForAll();

/** A busy machine makes days up slowly. */
const PATIENT = { timeout: 90_000 };

const planOf = (page: Page) => page.getByRole("region", { name: "Plan of the day" });
const linesOf = (page: Page) => page.locator(".plan-line");

/** Minutes as they stand on the lines. */
const minutesOf = async (page: Page) =>
  (await page.locator(".plan-minutes").allTextContents()).map((text) => Number.parseInt(text, 10));

const sum = (numbers: readonly number[]) => numbers.reduce((one, other) => one + other, 0);

/** Pixels by which something makes the page wider than the window. */
const beyondThePage = (page: Page) =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

async function withMadeUpDays(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Skip all of them" }).click();
  await page.getByRole("button", { name: "See it with made-up days" }).first().click();
  await page.getByText("Made-up days of a demonstration").waitFor(PATIENT);
  await planOf(page)
    .getByText(/To revisit/)
    .first()
    .waitFor(PATIENT);
}

describe.skipIf(chromiumPath === null)(`Today in a real browser${whyNoBrowser}`, () => {
  test("a new player finds a first plan on the harp in hand once the first steps are left", async () => {
    const { page, complaints } = await open({ roomKey: ROOM_KEYS.today });
    expect(await planOf(page).count()).toBe(0);
    await page.getByRole("button", { name: "Skip all of them" }).click();
    await linesOf(page).filter({ hasText: "Warm-up" }).waitFor(PATIENT);
    expect(sum(await minutesOf(page))).toBe(30);
    await page.getByText("not tried yet in 2nd position.").first().waitFor();
    await page.getByLabel("Time today").fill("5");
    await page.getByText("5 minutes of playing.").waitFor();
    expect(await linesOf(page).count()).toBe(2);
    expect(await axeViolations(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test("thirty days of history explain themselves, on light and dark paper", async () => {
    const { page, complaints } = await open({ roomKey: ROOM_KEYS.today });
    await withMadeUpDays(page);
    expect(sum(await minutesOf(page))).toBe(30);
    // Why it is due, as a player would say it.
    const reason = /last on \d+ \w+, first try \d+ of \d+(, ± \d+ ms)? \(made up\); \d+ days? since\./;
    await planOf(page).getByText(reason).first().waitFor();
    await page.getByText(/When to revisit: \d+ due/).click();
    await page.getByText("none is known for playing.").waitFor();
    expect(await page.getByText(/^Due (since|on|today)/).count()).toBeGreaterThan(3);
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await axeViolations(page), colorScheme).toEqual([]);
    }
    expect(complaints).toEqual([]);
  });

  test("one key each skips, swaps and lengthens a line, for the day", async () => {
    const { page, complaints } = await open({ roomKey: ROOM_KEYS.today });
    await withMadeUpDays(page);
    const before = await minutesOf(page);
    const warmUp = linesOf(page).filter({ hasText: "Warm-up" });
    const fresh = linesOf(page).filter({ hasText: "Something new" }).first();
    await page.keyboard.press("l");
    await expect.poll(async () => sum(await minutesOf(page))).toBe(sum(before) + 2);
    await page.keyboard.press("k");
    await warmUp.getByText("skipped").waitFor();
    const title = await fresh.locator(".plan-title").textContent();
    await fresh.getByRole("button", { name: /^Skip/ }).focus();
    await page.keyboard.press("w");
    await expect.poll(() => fresh.locator(".plan-title").textContent()).not.toBe(title);
    const swapped = await fresh.locator(".plan-title").textContent();
    await page.reload();
    await warmUp.getByText("skipped").waitFor(PATIENT);
    expect(await fresh.locator(".plan-title").textContent()).toBe(swapped);
    expect(sum(await minutesOf(page))).toBe(sum(before) + 2);
    await warmUp.getByRole("button", { name: "Play Warm-up" }).click();
    await expect.poll(() => warmUp.getByText("skipped").count()).toBe(0);
    expect(complaints).toEqual([]);
  });

  test("what is due can be moved and suspended, and is then in no plan", async () => {
    const { page, complaints } = await open({ roomKey: ROOM_KEYS.today });
    await withMadeUpDays(page);
    await page.getByText(/When to revisit/).click();
    const rows = page.locator(".due-rows > li");
    const title = async () => (await rows.first().locator(".plan-title").textContent()) ?? "";
    const [suspended] = [await title()];
    await rows
      .first()
      .getByRole("button", { name: /^Not any more/ })
      .click();
    await page.getByText("Not asked for, as you want it.").waitFor();
    expect(await planOf(page).getByText(suspended, { exact: true }).count()).toBe(0);
    const moved = await title();
    expect(moved).not.toBe(suspended);
    await rows
      .first()
      .getByRole("button", { name: /^In a week/ })
      .click();
    await page.getByText(/moved there by you/).waitFor();
    expect(await planOf(page).getByText(moved, { exact: true }).count()).toBe(0);
    await page.reload();
    await planOf(page)
      .getByText(/To revisit/)
      .first()
      .waitFor(PATIENT);
    expect(await planOf(page).getByText(suspended, { exact: true }).count()).toBe(0);
    await page.getByText(/When to revisit/).click();
    await page.getByRole("button", { name: /^Ask for it again/ }).click();
    await planOf(page).getByText(suspended, { exact: true }).waitFor();
    await page.getByRole("button", { name: /^As it was/ }).click();
    await planOf(page).getByText(moved, { exact: true }).waitFor();
    await enterRoom(page, ROOM_KEYS.today);
    expect(await axeViolations(page)).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test("at twice the size of text, in the smallest window, nothing of the plan is cut", async () => {
    const viewport = { width: 1024, height: 700 };
    const { page, complaints } = await open({ roomKey: ROOM_KEYS.today, viewport });
    await withMadeUpDays(page);
    await enterRoom(page, ROOM_KEYS.settings);
    await page.getByLabel("200 %").check();
    await enterRoom(page, ROOM_KEYS.today);
    await linesOf(page).first().waitFor(PATIENT);
    await page.getByText(/When to revisit/).click();
    await page.locator(".due-rows > li").first().waitFor();
    expect(await beyondThePage(page)).toBe(0);
    expect(await axeViolations(page)).toEqual([]);
    await page.getByRole("button", { name: "Start the plan" }).click();
    await page.locator(".plan-strip").waitFor(PATIENT);
    await page.locator(".staff svg").first().waitFor(PATIENT);
    expect(await beyondThePage(page)).toBe(0);
    expect(complaints).toEqual([]);
  });
});
