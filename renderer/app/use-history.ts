import { useCallback, useEffect, useMemo, useState } from "react";
import type { HistoryRead } from "../history/history-screen.tsx";
import type { HistoryEntry, HistoryLine, HistoryStore, Removed } from "../store/history-store.ts";

/** What went wrong, as a sentence for the player. */
export const sentence = (error: unknown) => {
  const words = error instanceof Error ? error.message : String(error);
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
};

/** Lines among which what one may go on with is looked for. */
const RECENT_LINES = 60;

/** What there is in the history, what was played last, and what can be done to it; never all of its lines. */
export function useHistory(store: HistoryStore) {
  const [read, setRead] = useState<HistoryRead>({ kind: "loading" });
  const [recent, setRecent] = useState<readonly HistoryLine[] | null>(null);
  const [version, setVersion] = useState(0);
  const [deleted, setDeleted] = useState<Removed | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);

  const refresh = useCallback(() => {
    Promise.all([store.facets(), store.recent(RECENT_LINES)]).then(
      ([facets, lines]) => {
        setRead({ kind: "read", facets });
        setRecent(lines);
        setVersion((before) => before + 1);
      },
      (error: unknown) => setRead({ kind: "trouble", words: sentence(error) }),
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
  const search = useMemo(() => ({ page: store.page.bind(store), count: store.count.bind(store) }), [store]);
  return {
    read,
    recent,
    /** Changes whenever the history did. */
    version,
    search,
    deleted: deleted === null ? null : deletedInWords(deleted),
    trouble,
    refresh,
    open,
    star: (id: string, on: boolean) => settle(store.star(id, on)),
    remove: (ids: readonly string[]) => settle(store.remove(ids).then(setDeleted)),
    undo: () => {
      if (deleted !== null) settle(store.restore(deleted).then(() => setDeleted(null)));
    },
  };
}

/** Null where nothing went. */
function deletedInWords({ entries }: Removed): string | null {
  const [first] = entries;
  if (first === undefined) return null;
  return entries.length === 1 ? first.exercise.title : `${entries.length} attempts`;
}
