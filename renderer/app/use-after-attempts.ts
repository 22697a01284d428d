import { useEffect, useSyncExternalStore } from "react";
import type { HistoryStore } from "../store/history-store.ts";
import type { Archiving } from "./archiving.ts";
import type { PersistenceAsking } from "./persistence.ts";

interface AfterAttempts {
  readonly archiving: Archiving;
  readonly history: Pick<HistoryStore, "count">;
  readonly persistence: PersistenceAsking;
}

/**
 * What follows an attempt: with the first one there is something to lose, so that the browser is asked to keep it; the shell
 * backs up once the session is over.
 *
 * @returns why the last backup was not saved, as a sentence; null otherwise
 */
export function useAfterAttempts({ archiving, history, persistence }: AfterAttempts): string | null {
  const { backups, onAttemptKept } = archiving;
  useEffect(() => {
    void backups?.start();
    return () => backups?.dispose();
  }, [backups]);
  useEffect(
    () =>
      onAttemptKept(() => {
        backups?.attemptKept();
        void askOnce(history, persistence);
      }),
    [backups, history, persistence, onAttemptKept],
  );
  return useSyncExternalStore(backups?.subscribe ?? NEVER, () => backups?.getState().trouble ?? null);
}

const NEVER = () => () => {};

async function askOnce(history: AfterAttempts["history"], persistence: PersistenceAsking): Promise<void> {
  const isFirst = (await history.count({})) === 1;
  if (isFirst && (await persistence.now()) === "not promised") await persistence.ask();
}
