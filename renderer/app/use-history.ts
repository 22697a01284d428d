import { useCallback, useEffect, useState } from "react";
import type { HistoryList } from "../history/history-screen.tsx";
import type { HistoryEntry, HistoryStore, Removed } from "../store/history-store.ts";

/** What went wrong, as a sentence for the player. */
export const sentence = (error: unknown) => {
  const words = error instanceof Error ? error.message : String(error);
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
};

/** The history list and what can be done to it. */
export function useHistory(store: HistoryStore) {
  const [list, setList] = useState<HistoryList>({ kind: "loading" });
  const [deleted, setDeleted] = useState<Removed | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);

  const refresh = useCallback(() => {
    store.list().then(
      (lines) => setList({ kind: "lines", lines }),
      (error: unknown) => setList({ kind: "trouble", words: sentence(error) }),
    );
  }, [store]);
  useEffect(refresh, [refresh]);

  const open = useCallback(
    async (id: string): Promise<HistoryEntry | null> => {
      try {
        const entry = await store.open(id);
        setTrouble(entry === null ? "That attempt is no longer in the history." : null);
        return entry;
      } catch (error) {
        setTrouble(sentence(error));
        return null;
      }
    },
    [store],
  );
  const settle = (work: Promise<unknown>) =>
    void work
      .then(
        () => setTrouble(null),
        (error: unknown) => setTrouble(sentence(error)),
      )
      .then(refresh);
  const remove = (id: string) => settle(store.remove([id]).then(setDeleted));
  const undo = () => {
    if (deleted !== null) settle(store.restore(deleted).then(() => setDeleted(null)));
  };
  return { list, deleted, trouble, refresh, open, remove, undo };
}
