import { useCallback, useEffect, useRef, useState } from "react";
import type { HistoryCheck, Keeping, Persistence, SpaceRead } from "../settings/keeping.ts";
import type { HistoryUpkeep } from "../store/history-store.ts";
import type { RunningTakes } from "../store/running-take.ts";
import type { CopyStanding } from "../store/second-copy/second-copy.ts";
import type { PersistenceAsking } from "./persistence.ts";
import { sentence } from "./use-history.ts";

/** How it stands with the second copy; "none" where the browser has no place for one. */
export interface CopyAsking {
  standing(): Promise<CopyStanding | "none">;
}

/** What looking after the history needs. */
export interface KeepingServices {
  readonly upkeep: Pick<HistoryUpkeep, "space" | "fitTakes" | "dropAllTakes" | "needsRecount" | "verify">;
  readonly persistence: PersistenceAsking;
  readonly runningTakes: Pick<RunningTakes, "left" | "takeOver">;
  readonly secondCopy: CopyAsking;
  readonly nowEpochMs: () => number;
}

/** What is kept and what can be done for it; read when the settings are entered. */
export function useKeeping(services: KeepingServices): Keeping {
  const { upkeep, persistence, runningTakes, secondCopy, nowEpochMs } = services;
  const [space, setSpace] = useState<SpaceRead>({ kind: "reading" });
  const [promise, setPromise] = useState<Persistence>("unknown");
  const [copy, setCopy] = useState<Keeping["copy"]>(null);
  const [check, setCheck] = useState<HistoryCheck>({ kind: "none" });
  const [needsRecount, setNeedsRecount] = useState(false);
  const checking = useRef<AbortController | null>(null);

  const look = useCallback(
    () =>
      Promise.all([upkeep.space(), upkeep.needsRecount()]).then(
        ([read, recount]) => {
          setSpace({ kind: "read", space: read });
          setNeedsRecount(recount);
        },
        (error: unknown) => setSpace({ kind: "trouble", words: sentence(error) }),
      ),
    [upkeep],
  );
  useEffect(() => {
    void look();
    void persistence.now().then(setPromise);
    void secondCopy.standing().then(setCopy);
    return () => checking.current?.abort();
  }, [look, persistence, secondCopy]);

  const onCheck = async () => {
    if (checking.current !== null) return;
    const stop = new AbortController();
    checking.current = stop;
    setCheck({ kind: "checking", share: 0 });
    const onProgress = (share: number) => setCheck({ kind: "checking", share });
    try {
      const verified = await upkeep.verify({ repair: true, onProgress, signal: stop.signal });
      setCheck({ kind: "done", verified });
    } catch (error) {
      setCheck(stop.signal.aborted ? { kind: "stopped" } : { kind: "trouble", words: sentence(error) });
    } finally {
      checking.current = null;
      await look();
    }
  };
  const dropTakes = async () => {
    try {
      await upkeep.dropAllTakes();
      // Those that were left unmarked are sound as well.
      for (const { id } of await runningTakes.left(nowEpochMs()))
        await (await runningTakes.takeOver(id))?.discard();
      await look();
    } catch (error) {
      setSpace({ kind: "trouble", words: sentence(error) });
    }
  };
  return {
    space,
    persistence: promise,
    copy,
    check,
    needsRecount,
    onAskToKeep: () => void persistence.ask().then(setPromise),
    onFitTakes: () =>
      void upkeep
        .fitTakes()
        .then(look, (error: unknown) => setSpace({ kind: "trouble", words: sentence(error) })),
    onDropTakes: () => void dropTakes(),
    onCheck: () => void onCheck(),
    onStopCheck: () => checking.current?.abort(),
  };
}
