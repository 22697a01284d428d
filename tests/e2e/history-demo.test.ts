import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { exerciseOf } from "../support/drills.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { microphoneTake } from "./takes.ts";

const { open } = oneBrowserForAll();
const PATIENT = { timeout: 60_000 };
const LABEL = "Made-up days of a demonstration - not yours.";

/** Every table of the page's own database as text, the settings left out: what was looked at last is among them. */
const everything = (page: Page) =>
  page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const tables = [...database.objectStoreNames].filter((name) => name !== "settings").sort();
    const rows = tables.map(
      (name) =>
        new Promise<string>((resolve, reject) => {
          const request = database.transaction(name).objectStore(name).getAll();
          request.onsuccess = () => resolve(`${name}: ${JSON.stringify(request.result)}`);
          request.onerror = () => reject(request.error);
        }),
    );
    const all = await Promise.all(rows);
    database.close();
    return all;
  });

const label = (page: Page) => page.getByText(LABEL);
const button = (page: Page, name: string | RegExp) => page.getByRole("button", { name });

describe.skipIf(chromiumPath === null)(`the made-up days${whyNoBrowser}`, () => {
  test.each(["light", "dark"] as const)(
    "are added where nothing is, labelled wherever they are shown, and gone in one step, %s",
    async (colorScheme) => {
      const { page, complaints } = await open({ colorScheme, roomKey: ROOM_KEYS.progress });
      await button(page, "See it with made-up days").waitFor(PATIENT);
      expect(await axeViolations(page), "offered").toEqual([]);
      const before = await everything(page);
      await button(page, "See it with made-up days").click();
      await label(page).waitFor(PATIENT);
      // Their trends: what is done every day comes first.
      await page.getByRole("radio", { name: /^Notes right/ }).waitFor(PATIENT);
      await button(page, "Attempts").click();
      await page.getByText(/^\d+ attempts$/).waitFor(PATIENT);
      expect(await label(page).count()).toBe(1);
      const shown = await page.locator("tr[data-row]").count();
      expect(shown).toBeGreaterThan(5);
      expect(await page.getByText(/made up, not yours/).count()).toBe(shown);
      expect(await axeViolations(page), "attempts").toEqual([]);

      await enterRoom(page, ROOM_KEYS.today);
      await label(page).waitFor(PATIENT);
      await page
        .getByText(/made up/)
        .nth(1)
        .waitFor(PATIENT);
      expect(await axeViolations(page), "today").toEqual([]);
      await enterRoom(page, ROOM_KEYS.tunes);
      await label(page).waitFor(PATIENT);
      await page.getByLabel(/Find/).fill("chairs against");
      await button(page, "Chairs Against the Wall").waitFor(PATIENT);

      // The field one types in keeps the keys of the rooms to itself.
      await page.getByRole("navigation").getByRole("button", { name: "Settings" }).click();
      await button(page, "Check the history").click();
      await page.getByText(/attempts counted anew: everything agrees\./).waitFor(PATIENT);

      await enterRoom(page, ROOM_KEYS.today);
      await button(page, "Remove them").click();
      await button(page, "See it with made-up days").waitFor(PATIENT);
      expect(await label(page).count()).toBe(0);
      expect(await everything(page)).toEqual(before);
      expect(complaints).toEqual([]);
    },
  );

  test("stopped while they are made, nothing of them stays", async () => {
    const { page } = await open({ roomKey: ROOM_KEYS.today });
    await button(page, "See it with made-up days").waitFor(PATIENT);
    const before = await everything(page);
    await button(page, "See it with made-up days").click();
    await button(page, "Stop").click();
    await button(page, "See it with made-up days").waitFor(PATIENT);
    expect(await everything(page)).toEqual(before);
  });

  test("leave what the player played in between, and only that", async () => {
    const exercise = exerciseOf();
    const { page } = await open({ roomKey: ROOM_KEYS.today });
    await button(page, "See it with made-up days").click();
    await label(page).waitFor(PATIENT);
    await enterRoom(page, ROOM_KEYS.drills);
    await button(page, "Practise this").click();
    const take = microphoneTake(exercise, 51, false);
    await page.getByLabel("Recording to mark").setInputFiles(take.wavPath);
    await page.getByText("Kept in the history.").waitFor(PATIENT);
    await enterRoom(page, ROOM_KEYS.progress);
    await button(page, "Remove them").click();
    await label(page).waitFor({ state: "detached", timeout: 60_000 });
    await button(page, "Attempts").click();
    await page.getByText("1 attempt", { exact: true }).waitFor(PATIENT);
    await page.getByRole("button", { name: exercise.title, exact: true }).waitFor(PATIENT);
    await enterRoom(page, ROOM_KEYS.settings);
    await button(page, "Check the history").click();
    await page.getByText("1 attempt counted anew: everything agrees.").waitFor(PATIENT);
  });
});
