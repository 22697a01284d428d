import type { Page } from "playwright-core";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import type { Settings } from "../../renderer/store/settings-store.ts";

/** What the page's own database holds, read from outside the program's code. */
export interface KeptAttempt {
  readonly id: string;
  readonly source: string;
  readonly exercise: Exercise;
  readonly attempt: Attempt;
  /** Largest sample of the kept take. */
  readonly peak: number;
  readonly takeSamples: number;
}

export async function keptAttempts(page: Page): Promise<readonly KeptAttempt[]> {
  return page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const all = (table: string) =>
      new Promise<unknown[]>((resolve, reject) => {
        const request = database.transaction(table).objectStore(table).getAll();
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const attempts = (await all("attempts")) as {
      id: string;
      source: string;
      exercise: never;
      attempt: never;
    }[];
    const takes = (await all("takes")) as { id: string; samples: Float32Array }[];
    database.close();
    return attempts.map((row) => {
      const samples = takes.find((take) => take.id === row.id)?.samples ?? new Float32Array();
      return {
        ...row,
        takeSamples: samples.length,
        peak: samples.reduce((a, b) => Math.max(a, Math.abs(b)), 0),
      };
    });
  });
}

/** The samples of the one kept take, to the last bit. */
export async function keptTake(page: Page): Promise<{ samples: Float32Array; sampleRateHz: number }> {
  const { base64, sampleRateHz } = await page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const [take] = await new Promise<{ samples: Float32Array; sampleRateHz: number }[]>((resolve, reject) => {
      const request = database.transaction("takes").objectStore("takes").getAll();
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    database.close();
    if (take === undefined) throw new Error("no take was kept");
    const bytes = new Uint8Array(take.samples.buffer);
    let text = "";
    for (let at = 0; at < bytes.length; at += 8192)
      text += String.fromCharCode(...bytes.subarray(at, at + 8192));
    return { base64: btoa(text), sampleRateHz: take.sampleRateHz };
  });
  return { samples: new Float32Array(Uint8Array.from(Buffer.from(base64, "base64")).buffer), sampleRateHz };
}

/** What the player set, as it is kept; null until something was. */
export async function keptSettings(page: Page): Promise<Settings | null> {
  return page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open("reedpath");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const row = await new Promise<{ value: Settings } | undefined>((resolve, reject) => {
      const request = database.transaction("settings").objectStore("settings").get("settings");
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    database.close();
    return row?.value ?? null;
  });
}
