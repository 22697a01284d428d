import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { type HistoryEntry, lineOf } from "../../renderer/store/history-store.ts";
import { thirtyDays } from "../support/thirty-days.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";

const { open } = oneBrowserForAll();
const PATIENT = { timeout: 30_000 };

/** Puts entries into the page's own database, as the program would have kept them. */
async function keep(page: Page, entries: readonly HistoryEntry[]): Promise<void> {
  const rows = entries.map((entry) => {
    const { id, atEpochMs, source, exercise, attempt } = entry;
    return { line: lineOf(entry), attempt: { id, atEpochMs, source, exercise, attempt } };
  });
  await page.evaluate(async (kept) => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const work = database.transaction(["lines", "attempts"], "readwrite");
    for (const { line, attempt } of kept) {
      work.objectStore("lines").put(line);
      work.objectStore("attempts").put(attempt);
    }
    await new Promise((resolve, reject) => {
      work.oncomplete = resolve;
      work.onerror = () => reject(work.error);
    });
    database.close();
  }, rows as never[]);
  await page.reload();
}

describe.skipIf(chromiumPath === null)(`the progress of thirty days${whyNoBrowser}`, () => {
  test.each(["light", "dark"] as const)(
    "has its minutes and finds its attempts; axe finds nothing, %s",
    async (colorScheme) => {
      const { page, complaints } = await open({ colorScheme });
      await keep(page, thirtyDays(5));
      await enterRoom(page, ROOM_KEYS.progress);
      await page.getByRole("button", { name: "Calendar" }).click();
      await page.getByText("52 min on 26 days").waitFor(PATIENT);
      expect(await page.getByText("2 min", { exact: true }).count()).toBe(26); // [calc] two takes of a minute a day
      expect(await axeViolations(page), "calendar").toEqual([]);
      await page.getByRole("button", { name: "Attempts" }).click();
      await page.getByText("52 attempts").waitFor(PATIENT); // [calc] two a day
      await page.getByLabel("To", { exact: true }).fill("2026-09-01");
      await page.getByText("2 attempts", { exact: true }).waitFor(PATIENT);
      expect(await axeViolations(page), "attempts").toEqual([]);
      expect(complaints).toEqual([]);
    },
  );
});
