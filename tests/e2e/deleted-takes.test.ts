import { lstatSync, mkdtempSync, readdirSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll, describe, expect, test } from "vitest";
import { exerciseOf } from "../support/drills.ts";
import { browserFlags, chromiumPath, enterRoom, ROOM_KEYS, serveApp, whyNoBrowser } from "./browser.ts";
import { microphoneTake } from "./takes.ts";

const PATIENT = { timeout: 60_000 };
const profile = mkdtempSync(path.join(tmpdir(), "reedpath-profile-"));
let context: BrowserContext | null = null;
afterAll(async () => context?.close());

/** From the middle of each kept take, as its bytes lie in the database. */
async function middles(page: Page): Promise<readonly Buffer[]> {
  const parts = await page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const rows = await new Promise<{ packed: Uint8Array }[]>((resolve, reject) => {
      const request = database.transaction("takes").objectStore("takes").getAll();
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    database.close();
    return rows.map(({ packed }) => [...packed.subarray(packed.length >> 1, (packed.length >> 1) + 64)]);
  });
  return parts.map((part) => Buffer.from(part));
}

function filesIn(folder: string): readonly string[] {
  return readdirSync(folder).flatMap((name) => {
    const file = path.join(folder, name);
    const kind = lstatSync(file, { throwIfNoEntry: false });
    if (kind?.isDirectory()) return filesIn(file);
    return kind?.isFile() ? [file] : [];
  });
}

/** How many of the takes can be found in any file of the browser's profile. */
function found(takes: readonly Buffer[]): number {
  const files = filesIn(profile).map((file) => {
    try {
      return readFileSync(file);
    } catch {
      return Buffer.alloc(0); // gone between listing and reading
    }
  });
  return takes.filter((take) => files.some((file) => file.includes(take))).length;
}

describe.skipIf(chromiumPath === null)(`takes on the disk of a real browser${whyNoBrowser}`, () => {
  test("lie in its profile until they are deleted, one or all, and in none of its files afterwards", async () => {
    const server = await serveApp();
    context = await chromium.launchPersistentContext(profile, {
      executablePath: chromiumPath ?? "",
      args: browserFlags({}),
      reducedMotion: "reduce",
    });
    const page = await context.newPage();
    await page.goto(server.url);
    for (const seed of [71, 72]) {
      await enterRoom(page, ROOM_KEYS.drills);
      await page.getByRole("button", { name: "Practise this" }).press("Enter");
      await page.locator(".staff svg").first().waitFor(PATIENT);
      const { wavPath } = microphoneTake(exerciseOf(), seed, false);
      await page.getByLabel("Recording to mark").setInputFiles(wavPath);
      await page.getByText("Kept in the history.").waitFor(PATIENT);
    }
    const takes = await middles(page);
    expect(takes).toHaveLength(2);
    expect(found(takes)).toBe(2);
    await page.getByRole("button", { name: "Delete the take …" }).click();
    await page.getByRole("button", { name: "Delete the take", exact: true }).click();
    await page.getByText("The take is no longer kept").waitFor(PATIENT);
    expect(await middles(page)).toHaveLength(1);
    // Each take of more than a second has a file of its own, which the browser deletes with it.
    await expect.poll(() => found(takes), PATIENT).toBe(1);
    await enterRoom(page, ROOM_KEYS.settings);
    await page.getByRole("button", { name: "Delete all takes …" }).click();
    await page.getByRole("button", { name: "Delete all takes", exact: true }).click();
    await expect.poll(() => middles(page), PATIENT).toEqual([]);
    await expect.poll(() => found(takes), PATIENT).toBe(0);
    await context.close();
    expect(found(takes)).toBe(0);
    await server.close();
  });
});
