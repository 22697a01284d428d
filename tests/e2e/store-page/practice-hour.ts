import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import type { DemoAttempt } from "../../../core/simulate/demo-days.ts";
import type { DexieHistoryStore } from "../../../renderer/store/dexie-history-store.ts";
import type { Removed } from "../../../renderer/store/history-store.ts";
import { entryOf } from "./played-pool.ts";

/** What the page says it is about to do, and has done once the store's promise was kept. */
export type Said =
  | { readonly said: "saved"; readonly id: string }
  | { readonly said: "removing" | "removed" | "restoring" | "restored"; readonly ids: readonly string[] }
  | { readonly said: "starred"; readonly id: string }
  | { readonly said: "trouble"; readonly words: string };

/** Sound of a fifth of a second, so that a take is written with every attempt. */
const TAKE_SAMPLES = 9600;
const MINUTE_MS = 60_000;

/**
 * Practises without end as an hurried player would: takes saved one after the other, some deleted, brought back, starred, and the
 * clock set back now and then. Says everything to the test outside.
 */
export async function practise(
  history: DexieHistoryStore,
  pool: readonly DemoAttempt[],
  setting: { readonly seed: number; readonly startsEpochMs: number },
): Promise<void> {
  const random = seededRandom(setting.seed);
  const kept: string[] = [];
  const removed: Removed[] = [];
  let clockMs = setting.startsEpochMs;
  for (;;) {
    const chance = random();
    if (chance < 0.7 || kept.length < 3) {
      clockMs += (chance < 0.05 ? -300 : 1 + 2 * random()) * MINUTE_MS;
      const samples = Float32Array.from({ length: TAKE_SAMPLES }, () => Math.round(2000 * random()) / 32_768);
      const played = entryOf(pool, Math.floor(random() * 5 * pool.length), Math.round(clockMs));
      const id = await history.save({ ...played, take: { samples, sampleRateHz: 48_000 } });
      kept.push(id);
      await say({ said: "saved", id });
    } else if (chance < 0.82) {
      const ids = kept.splice(Math.floor(random() * (kept.length - 1)), 1 + Math.floor(2 * random()));
      await say({ said: "removing", ids });
      removed.push(await history.remove(ids));
      await say({ said: "removed", ids });
    } else if (chance < 0.92) {
      const back = removed.pop();
      if (back === undefined) continue;
      const ids = back.entries.map(({ id }) => id);
      await say({ said: "restoring", ids });
      await history.restore(back);
      kept.push(...ids);
      await say({ said: "restored", ids });
    } else {
      const id = kept[Math.floor(random() * kept.length)] ?? "";
      await history.star(id, true);
      await say({ said: "starred", id });
    }
  }
}

declare global {
  /** Of the test outside; settled once it has heard. */
  var tell: ((said: Said) => Promise<void>) | undefined;
}

/** What is about to be done is heard outside before it is. */
export const say = async (said: Said): Promise<void> => tell?.(said);
