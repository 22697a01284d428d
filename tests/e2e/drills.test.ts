import { describe, expect, test } from "vitest";
import {
  axeViolations,
  chromiumPath,
  enterRoom,
  ROOM_KEYS,
  type WatchedPage,
  whyNoBrowser,
} from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";

const browser = oneBrowserForAll();

async function open(): Promise<WatchedPage> {
  const opened = await browser.open();
  await opened.page.getByRole("button", { name: "Practise this" }).waitFor();
  return opened;
}

describe.skipIf(chromiumPath === null)(`choosing a drill in a real browser${whyNoBrowser}`, () => {
  test("what was chosen is there again after a reload", async () => {
    const { page } = await open();
    await page.getByLabel("Harp", { exact: true }).selectOption("A");
    await page.getByLabel("Position").selectOption("3");
    await page.getByText("B dorian scale").waitFor();
    await page.reload();
    await enterRoom(page, ROOM_KEYS.drills);
    await page.getByText("B dorian scale").waitFor();
  });

  test("every kind of drill can be chosen and shown, without anything amiss", async () => {
    const { page, complaints } = await open();
    const kinds = page.getByRole("group", { name: "Kind of drill" }).getByRole("radio");
    expect(await kinds.count()).toBe(11);
    // At one note to the beat a run on one breath would be longer than is asked of anyone.
    await page.getByRole("group", { name: "Notes to the beat" }).getByLabel("2").check();
    // The last, random notes, must not show what will be asked.
    for (let kind = 0; kind < 10; kind++) {
      await kinds.nth(kind).check();
      await page.locator(".staff svg").first().waitFor();
      expect(await page.getByRole("alert").count()).toBe(0);
      expect(await page.locator(".tab-row text").count()).toBeGreaterThan(1);
    }
    await page.getByLabel("long tones").check();
    await page.getByText(/Stop and rest if you feel light-headed/).waitFor();
    expect(await axeViolations(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(1280);
    expect(complaints).toEqual([]);
  });

  test("a drill is heard before it is chosen, and hushed by the same key or by another choice", async () => {
    const { page, complaints } = await open();
    await page.getByRole("button", { name: /Hear it/ }).waitFor();
    await page.locator(".staff svg").waitFor();
    await page.keyboard.press("h");
    await page.getByRole("button", { name: /Hush/ }).waitFor();
    await page.keyboard.press("h");
    await page.getByRole("button", { name: /Hear it/ }).waitFor();
    await page.keyboard.press("h");
    await page.getByRole("button", { name: /Hush/ }).waitFor();
    await page.getByLabel("Position").selectOption("3");
    await page.getByRole("button", { name: /Hear it/ }).waitFor();
    expect(complaints).toEqual([]);
  });

  test("a mode the harp lacks is refused in words, and cannot be started", async () => {
    const { page } = await open();
    await page.getByLabel("Position").selectOption("1");
    await page.getByLabel("Mode").selectOption("locrian");
    await page.getByText(/This cannot be played: .*without overblows/).waitFor();
    expect(await page.getByRole("button", { name: "Practise this" }).isDisabled()).toBe(true);
  });
});
