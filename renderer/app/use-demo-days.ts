import { useRef, useState } from "react";
import type { HistoryArchive, HistoryUpkeep } from "../store/history-store.ts";
import type { DemoWork } from "../ui/demo-notes.tsx";
import { entryOfDemo, eveningBefore } from "./demo-entries.ts";
import type { MakeDemoDays } from "./demo-work.ts";
import { sentence } from "./use-history.ts";

/** What adding and removing the made-up days needs. */
export interface DemoServices {
  readonly archive: Pick<HistoryArchive, "keepMany">;
  readonly upkeep: Pick<HistoryUpkeep, "removeDemo">;
  readonly makeDemoDays: MakeDemoDays;
  readonly newId: () => string;
  readonly nowEpochMs: () => number;
  readonly zone: () => string;
}

/** How much of the waiting is making the days up; the rest is keeping them. */
const MAKING = 0.5;

const NONE: DemoWork = { kind: "none" };

/** Adds the made-up days in one go and removes them in one step. */
export function useDemoDays(services: DemoServices, onChanged: () => void) {
  const [work, setWork] = useState(NONE);
  const going = useRef<AbortController | null>(null);

  const removeAll = (signal: AbortSignal) => {
    const onProgress = (share: number) => setWork({ kind: "removing", share });
    onProgress(0);
    return services.upkeep.removeDemo({ onProgress, signal });
  };

  const run = async (doing: (signal: AbortSignal) => Promise<unknown>) => {
    if (going.current !== null) return;
    const stop = new AbortController();
    going.current = stop;
    try {
      await doing(stop.signal);
      setWork(NONE);
    } catch (error) {
      setWork(stop.signal.aborted ? NONE : { kind: "trouble", words: sentence(error) });
    } finally {
      going.current = null;
      onChanged();
    }
  };

  const add = () =>
    run(async (signal) => {
      const tell = (share: number) => setWork({ kind: "adding", share });
      tell(0);
      const ask = { zone: services.zone(), lastBeginsEpochMs: eveningBefore(services.nowEpochMs()) };
      const made = await services.makeDemoDays(ask, (share) => tell(MAKING * share), signal);
      const entries = made.map((one) => entryOfDemo(one, services.newId()));
      try {
        const onProgress = (share: number) => tell(MAKING + (1 - MAKING) * share);
        await services.archive.keepMany(entries, { onProgress, signal });
      } catch (error) {
        // All or nothing: what was kept so far goes again. Stopped once more, the rest stays under its label.
        const second = new AbortController();
        going.current = second;
        await removeAll(second.signal).catch((failed: unknown) => {
          if (!second.signal.aborted) throw failed;
        });
        throw error;
      }
    });

  const remove = () => run(removeAll);

  return { work, add: () => void add(), remove: () => void remove(), stop: () => going.current?.abort() };
}
