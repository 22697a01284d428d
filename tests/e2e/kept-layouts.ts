import type { Page } from "playwright-core";
import type { Layout } from "../../core/instrument/layout.ts";

/** The player's own layouts as the page's database holds them, read from outside the program's code. */
export async function keptLayouts(page: Page): Promise<readonly Layout[]> {
  return page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const rows = await new Promise<unknown[]>((resolve, reject) => {
      const request = database.transaction("layouts").objectStore("layouts").getAll();
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    database.close();
    return (rows as { layout: never }[]).map((row) => row.layout);
  });
}

/** Puts something in the place of what the settings keep of the instrument screen, as a fault of the disk might. */
export async function spoilKeptInstrument(
  page: Page,
  part: Readonly<Record<string, unknown>>,
): Promise<void> {
  await page.evaluate(async (part) => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const settings = database.transaction("settings", "readwrite").objectStore("settings");
    await new Promise<void>((resolve, reject) => {
      const reading = settings.get("settings");
      reading.onerror = () => reject(reading.error);
      reading.onsuccess = () => {
        const { id, value } = reading.result as { id: string; value: { lastInstrument: object } };
        const lastInstrument = { ...value.lastInstrument, ...part };
        settings.put({ id, value: { ...value, lastInstrument } }).onsuccess = () => resolve();
      };
    });
    database.close();
  }, part);
}
