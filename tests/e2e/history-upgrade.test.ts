import { describe, expect, test } from "vitest";
import { INSTANCE_PATH } from "../../electron/loopback-server.ts";
import { SCHEMA_VERSION } from "../../renderer/store/database.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { keepAsVersion2, keptAsItIs } from "./kept-by-version-2.ts";

const { open } = oneBrowserForAll();
const ATTEMPTS = 1000;

describe.skipIf(chromiumPath === null)(`a history of an earlier version${whyNoBrowser}`, () => {
  test("is brought up to this one before the eyes; stopped, it is as it was, and going on brings it all", async () => {
    const { page, complaints } = await open({ roomKey: null });
    const window = page.url();
    // Of the same origin, and nothing that opens the database.
    await page.goto(new URL(INSTANCE_PATH, window).href);
    await page.evaluate(() => new Promise((done) => (indexedDB.deleteDatabase("reedpath").onsuccess = done)));
    await keepAsVersion2(page, ATTEMPTS);
    const before = await keptAsItIs(page);
    expect(before).toEqual({ version: 20, attempts: ATTEMPTS, tables: 9 });

    // That page has no icon.
    complaints.length = 0;
    await page.goto(window);
    await page.getByRole("progressbar", { name: "Your history is brought up to this version" }).waitFor();
    await page.getByRole("button", { name: "Stop" }).click();
    await page.getByText(/Your history is as the earlier version left it/).waitFor();
    expect(await keptAsItIs(page)).toEqual(before);
    expect(await axeViolations(page)).toEqual([]);

    // The way on has the focus.
    await page.keyboard.press("Enter");
    await page.getByRole("navigation").waitFor({ timeout: 60_000 });
    expect(await keptAsItIs(page)).toMatchObject({ version: 10 * SCHEMA_VERSION, attempts: ATTEMPTS });
    await enterRoom(page, ROOM_KEYS.progress);
    await page.getByRole("button", { name: "Attempts", exact: true }).click();
    await page.getByText("1,000 attempts", { exact: true }).waitFor();
    expect(complaints).toEqual([]);
  }, 120_000);
});
