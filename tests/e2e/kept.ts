import type { Page } from "playwright-core";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Attempt } from "../../core/score/attempt.ts";

/** What the page's own database holds, read from outside the program's code. */
export interface KeptAttempt {
  readonly id: string;
  readonly source: string;
  readonly exercise: Exercise;
  readonly attempt: Attempt;
  /** Largest sample of the kept take. */
  readonly peak: number;
  readonly takeSamples: number;
  /** Buffers of silence, about 10 ms, that the fake device of a busy machine put into the take: what follows is late. */
  readonly slips: number;
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
    /** Runs of exact zeros of 5 to 25 ms: 16-bit sound with room noise has none of that length. */
    const slipsIn = (samples: Float32Array) => {
      let zeros = 0;
      let slips = 0;
      for (const sample of samples) {
        if (sample === 0) zeros++;
        else {
          if (zeros >= 220 && zeros <= 1200) slips++;
          zeros = 0;
        }
      }
      return slips;
    };
    return attempts.map((row) => {
      const samples = takes.find((take) => take.id === row.id)?.samples ?? new Float32Array();
      return {
        ...row,
        takeSamples: samples.length,
        slips: slipsIn(samples),
        peak: samples.reduce((a, b) => Math.max(a, Math.abs(b)), 0),
      };
    });
  });
}
